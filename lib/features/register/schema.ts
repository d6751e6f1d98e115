import { z } from 'zod'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const registerQuery = z.strictObject({ from: plainDateSchema, until: plainDateSchema })
export type RegisterQuery = z.output<typeof registerQuery>

const registerAnswer = z
  .strictObject({
    species: z.string(),
    scientificName: z.string(),
    before: z.number().int().meta({ description: 'here before the first day' }),
    born: z.number().int(),
    received: z.number().int(),
    sold: z.number().int(),
    givenAway: z.number().int(),
    died: z.number().int(),
    escaped: z.number().int(),
    unaccounted: z.number().int(),
    after: z.number().int().meta({ description: 'here after the last day' }),
  })
  .meta({ id: 'RegisterRow' })

const taxAnswer = z.strictObject({
  percent: z.number(),
  net: z.number().int(),
  tax: z.number().int(),
  gross: z.number().int(),
  currency: z.string(),
})

const tag = 'Registers'
export const registerApi = {
  animals: describeApi({
    id: 'loadRegister',
    method: 'get',
    path: '/registers/animals',
    tag,
    summary: 'In, out, born and died by species in a period; stock on a past day is “after” it',
    permission: 'register:read',
    query: registerQuery,
    answer: listAnswer(registerAnswer),
  }),
  taxes: describeApi({
    id: 'loadTaxRegister',
    method: 'get',
    path: '/registers/taxes',
    tag,
    summary: 'Sales of a period by rate of tax, less what came back in it; smallest coins',
    permission: 'register:read',
    query: registerQuery,
    answer: listAnswer(taxAnswer),
  }),
}
