import { z } from 'zod'
import { PAPER_KINDS } from '@/lib/domain/paper/paper'
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

const eggCaseAnswer = z
  .strictObject({
    species: z.string(),
    scientificName: z.string(),
    before: z.number().int().meta({ description: 'here before the first day' }),
    laid: z.number().int(),
    received: z.number().int(),
    spent: z.number().int(),
    infertile: z.number().int(),
    wasps: z.number().int(),
    discarded: z.number().int(),
    givenAway: z.number().int(),
    sold: z.number().int(),
    after: z.number().int().meta({ description: 'here after the last day' }),
  })
  .meta({ id: 'EggCaseRegisterRow' })

const jarAnswer = z
  .strictObject({
    line: z.string().meta({ description: 'the prey line' }),
    before: z.number().int(),
    started: z.number().int().meta({ description: 'from own jars' }),
    bought: z.number().int().meta({ description: 'bought, or started from bought starters' }),
    sold: z.number().int(),
    discarded: z.number().int(),
    after: z.number().int(),
  })
  .meta({ id: 'CultureJarRegisterRow' })

const paperAnswer = z
  .strictObject({
    id: z.string(),
    kind: z.enum(PAPER_KINDS),
    number: z.string().meta({ description: 'empty once the buyer it may have led to was forgotten' }),
    on: z.string().meta({ description: 'the day that stands on it' }),
    movedOn: z.string().meta({ description: 'the day on which what it belongs to came or went' }),
    came: z.boolean(),
    scientificName: z.string(),
    label: z.string().meta({ description: 'empty where it is for a whole receipt' }),
    receipt: z.string(),
  })
  .meta({ id: 'PaperRegisterRow' })

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
  eggCases: describeApi({
    id: 'loadEggCaseRegister',
    method: 'get',
    path: '/registers/egg-cases',
    tag,
    summary:
      'Egg cases laid, received, spent and sold by species in a period; stock on a past day is “after” it',
    permission: 'register:read',
    query: registerQuery,
    answer: listAnswer(eggCaseAnswer),
  }),
  jars: describeApi({
    id: 'loadCultureJarRegister',
    method: 'get',
    path: '/registers/culture-jars',
    tag,
    summary: 'Culture jars started, bought, sold and discarded by prey line in a period',
    permission: 'register:read',
    query: registerQuery,
    answer: listAnswer(jarAnswer),
  }),
  papers: describeApi({
    id: 'loadPaperRegister',
    method: 'get',
    path: '/registers/papers',
    tag,
    summary: 'Permits and proofs of what came and went in a period, at most 1,000',
    permission: 'register:read',
    query: registerQuery,
    answer: listAnswer(paperAnswer),
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
