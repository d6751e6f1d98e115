import { z } from 'zod'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'

const name = z.string().trim().min(1, 'Give it a name.').max(60, 'At most 60 letters.')
const version = z.number().int().positive()
const millimetres = z
  .number('Enter millimetres.')
  .int('Enter whole millimetres.')
  .min(1, 'More than nothing, please.')
  .max(5000, '5000 mm at most.')
const pieces = z.number('Enter a number.').int('Enter a whole number.').max(100_000, '100,000 at most.')
const orderLine = z.strictObject({
  count: pieces.min(1, 'At least one.'),
  on: z.iso.date('Enter the day they are expected.'),
})

export const createContainerKindSchema = z.strictObject({
  name,
  volumeMl: z
    .number('Enter millilitres.')
    .int('Enter whole millilitres.')
    .min(1, 'More than nothing, please.')
    .max(10_000_000),
  innerHeightMm: millimetres,
  innerWidthMm: millimetres,
  single: z.boolean(),
  stock: pieces.min(0, 'Not below nothing.'),
  ordered: z.array(orderLine).max(20).optional(),
})
export type CreateContainerKind = z.output<typeof createContainerKindSchema>

export const updateContainerKindSchema = z.strictObject({
  id: z.uuid(),
  version,
  name,
  stock: pieces.min(0, 'Not below nothing.'),
})
export type UpdateContainerKind = z.output<typeof updateContainerKindSchema>

export const createContainerOrderSchema = z.strictObject({ kindId: z.uuid(), ...orderLine.shape })
export type CreateContainerOrder = z.output<typeof createContainerOrderSchema>

export const recordArrivalSchema = z.strictObject({
  orderId: z.uuid(),
  on: z.iso.date('Enter the day they arrived.').optional(),
})
export type RecordArrival = z.output<typeof recordArrivalSchema>

export const archiveContainerKindSchema = z.strictObject({ id: z.uuid(), version })
export type ArchiveContainerKind = z.output<typeof archiveContainerKindSchema>

const kindAnswer = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    volumeMl: z.number().int(),
    innerHeightMm: z.number().int(),
    innerWidthMm: z.number().int(),
    single: z.boolean().meta({ description: 'for one animal, so that no second one may be put in' }),
    stock: z.number().int().meta({ description: 'owned, whether in use or not' }),
    inUse: z.number().int(),
    free: z
      .number()
      .int()
      .meta({ description: 'stock less those in use; below zero where fewer are counted' }),
    ordered: z.array(z.strictObject({ id: z.string(), count: z.number().int(), on: z.iso.date() })),
    version,
  })
  .meta({ id: 'ContainerKind' })

const containerAnswer = z
  .strictObject({
    id: z.string(),
    containerKind: z.string(),
    single: z.boolean(),
    animals: z.array(z.strictObject({ id: z.string(), label: z.string() })),
    clutch: z.string().nullable().meta({ description: 'the clutch that stands together in it' }),
    colony: z.string().nullable().meta({ description: 'the colony that lives in it' }),
  })
  .meta({ id: 'Container' })

const TAG = 'Zones and containers'

export const containerApi = {
  listKinds: describeApi({
    id: 'listContainerKinds',
    method: 'get',
    path: '/container-kinds',
    tag: TAG,
    summary: 'Kinds of container: measures, stock, in use, free, on order',
    permission: 'container:read',
    answer: listAnswer(kindAnswer),
  }),
  createKind: describeApi({
    id: 'createContainerKind',
    method: 'post',
    path: '/container-kinds',
    tag: TAG,
    summary: 'Add a kind of container',
    permission: 'container:write',
    body: createContainerKindSchema,
    answer: kindAnswer,
  }),
  list: describeApi({
    id: 'listContainers',
    method: 'get',
    path: '/containers',
    tag: TAG,
    summary: 'Every cup or cage in use, with what is in it',
    permission: 'container:read',
    query: pageQuery,
    answer: listAnswer(containerAnswer),
  }),
}
