import { z } from 'zod'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'

const version = z.number().int().positive()
const name = z.string().trim().min(1, 'Give it a name.').max(60, 'At most 60 letters.')
const spoken = z.number('Enter a price.').min(0, 'Not below nothing.').max(1_000_000)

export const createPriceListSchema = z.strictObject({
  name,
  copyOf: z.uuid().optional().meta({ description: 'begins with the prices of this list' }),
})
export type CreatePriceList = z.output<typeof createPriceListSchema>

export const priceListVersionSchema = z.strictObject({ id: z.uuid(), version })
export type PriceListVersion = z.output<typeof priceListVersionSchema>

export const animalPriceSchema = z.strictObject({
  list: z.uuid(),
  species: z.uuid('Choose one.'),
  /** the number of the instar as the workspace counts, `adult`, or any where left out */
  stage: z.string().max(10).optional(),
  sex: z.enum(['male', 'female', 'unsexed']).optional(),
  price: spoken.optional(),
})
export type AnimalPrice = z.output<typeof animalPriceSchema>

export const stockPriceSchema = z.strictObject({
  list: z.uuid(),
  /** `kind~id`, as they are chosen */
  what: z.string().regex(/^(egg_case|culture|container|pack)~[\w-]{1,80}$/, 'Choose one.'),
  price: spoken.optional(),
})
export type StockPrice = z.output<typeof stockPriceSchema>

const priceListAnswer = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    isProposed: z.boolean().meta({ description: 'the one the counter proposes from' }),
    prices: z.array(
      z.strictObject({
        kind: z.enum(['animal', 'egg_case', 'culture', 'container', 'pack']),
        species: z.string().nullable(),
        moults: z.number().int().nullable(),
        isAdult: z.boolean(),
        sex: z.enum(['male', 'female', 'unsexed']).nullable(),
        containerKind: z.string().nullable(),
        line: z.string().nullable(),
        price: z.strictObject({ amount: z.number().int(), currency: z.string() }),
      }),
    ),
    version,
  })
  .meta({ id: 'PriceList' })

const forSaleAnswer = z.strictObject({
  species: z.string(),
  scientificName: z.string(),
  stage: z.string(),
  sex: z.enum(['male', 'female', 'unsexed']),
  count: z.number().int(),
  price: z.strictObject({ amount: z.number().int(), currency: z.string() }),
})

const tag = 'Sales'
export const priceListApi = {
  list: describeApi({
    id: 'listPriceLists',
    method: 'get',
    path: '/price-lists',
    tag,
    summary: 'Price lists with their prices',
    permission: 'price-list:read',
    answer: listAnswer(priceListAnswer),
  }),
  forSale: describeApi({
    id: 'listForSale',
    method: 'get',
    path: '/for-sale',
    tag,
    summary: 'What is for sale: animals at home, held for nobody, that the proposed list has a price for',
    permission: 'price-list:read',
    answer: listAnswer(forSaleAnswer),
  }),
}
