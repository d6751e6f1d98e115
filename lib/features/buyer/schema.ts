import { z } from 'zod'
import { LANGUAGES } from '@/lib/messages/language'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const text = (length: number) => z.string().trim().max(length, `At most ${length} letters.`)
const version = z.number().int().positive()

export const EXPERIENCES = ['unknown', 'beginner', 'experienced'] as const
export type Experience = (typeof EXPERIENCES)[number]

export const buyerSchema = z.strictObject({
  name: text(120).min(1, 'Give a name, or what you call them.'),
  email: z.union([z.literal(''), z.email('This is no mail address.').max(200)]).default(''),
  phone: text(60).default(''),
  address: text(500).default(''),
  country: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^([A-Z]{2})?$/, 'Two letters, as DE or NL.')
    .default(''),
  language: z
    .union([z.literal(''), z.enum(LANGUAGES)])
    .default('')
    .meta({ description: 'of receipts and papers; as the workspace writes where empty' }),
  experience: z.enum(EXPERIENCES).default('unknown'),
  note: text(500).default(''),
  keepConsent: z.boolean().default(false).meta({ description: 'agreed to be kept on record' }),
  newsConsent: z.boolean().default(false).meta({ description: 'agreed to be told what is for sale' }),
})
export type BuyerInput = z.output<typeof buyerSchema>

export const updateBuyerSchema = buyerSchema.extend({ id: z.uuid(), version })
export type UpdateBuyer = z.output<typeof updateBuyerSchema>

export const buyerVersionSchema = z.strictObject({ id: z.uuid(), version })
export type BuyerVersion = z.output<typeof buyerVersionSchema>

const buyerAnswer = z
  .strictObject({
    id: z.string(),
    name: z.string().meta({ description: 'empty once the person was erased' }),
    email: z.string(),
    phone: z.string(),
    address: z.string(),
    country: z.string(),
    language: z.string(),
    experience: z.enum(EXPERIENCES),
    note: z.string(),
    keepConsentOn: plainDateSchema.nullable(),
    newsConsentOn: plainDateSchema.nullable(),
    erasureAskedOn: plainDateSchema.nullable(),
    erasedOn: plainDateSchema.nullable(),
    version,
  })
  .meta({ id: 'Buyer' })
export type BuyerAnswer = z.input<typeof buyerAnswer>

/** What a write says back: the answer of a repeated call is kept, and must keep nothing of a person. */
const buyerWritten = z.strictObject({ id: z.string(), version })
const erasureAnswer = z.strictObject({
  id: z.string(),
  status: z.enum(['erased', 'waits']),
  until: plainDateSchema
    .nullable()
    .meta({ description: 'until when receipts that name the person have to be kept' }),
})

const buyerParams = z.strictObject({ id: z.uuid() })
const tag = 'Sales'

export const buyerApi = {
  list: describeApi({
    id: 'listBuyers',
    method: 'get',
    path: '/buyers',
    tag,
    summary: 'Buyers by name; those who were erased are left out',
    permission: 'buyer:read',
    query: pageQuery.extend({ search: text(120).optional() }),
    answer: listAnswer(buyerAnswer),
  }),
  load: describeApi({
    id: 'loadBuyer',
    method: 'get',
    path: '/buyers/{id}',
    tag,
    summary: 'One buyer',
    permission: 'buyer:read',
    params: buyerParams,
    answer: buyerAnswer,
  }),
  create: describeApi({
    id: 'createBuyer',
    method: 'post',
    path: '/buyers',
    tag,
    summary: 'Add a buyer. The answer names nobody, since it is kept for a repeated call',
    permission: 'buyer:write',
    body: buyerSchema,
    answer: buyerWritten,
  }),
  update: describeApi({
    id: 'updateBuyer',
    method: 'patch',
    path: '/buyers/{id}',
    tag,
    summary: 'Change a buyer, whole; If-Match with the version',
    permission: 'buyer:write',
    params: buyerParams,
    body: buyerSchema,
    answer: buyerAnswer,
  }),
  erase: describeApi({
    id: 'eraseBuyer',
    method: 'post',
    path: '/buyers/{id}/erasure',
    tag,
    summary:
      'Forget the person: at once, or when the duty to keep their receipts ends. Sales keep their figures',
    permission: 'buyer:write',
    params: buyerParams,
    body: z.strictObject({
      version: version.optional().meta({ description: 'the version that was looked at, as If-Match' }),
    }),
    answer: erasureAnswer,
  }),
}
