import { z } from 'zod'
import { individualParams } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'

/** Letters of base64 that a picture of a megabyte takes, with some room. */
const MOST_LETTERS = 1_400_000

const picture = z
  .base64('This is no picture.')
  .min(1, 'Choose a picture.')
  .max(MOST_LETTERS, 'At most one megabyte: send a smaller picture.')
  .meta({
    description: 'a JPEG, PNG or WebP picture in base64, at most 1 MB; it is made anew when it arrives',
  })

export const addPhotoSchema = z.strictObject({ individual: z.uuid(), picture })
export type AddPhoto = z.output<typeof addPhotoSchema>

export const choosePhotoSchema = z.strictObject({
  photo: z.uuid(),
  version: z.number().int().positive(),
  onSheet: z.boolean(),
})
export type ChoosePhoto = z.output<typeof choosePhotoSchema>

export const archivePhotoSchema = z.strictObject({ photo: z.uuid(), version: z.number().int().positive() })
export type ArchivePhoto = z.output<typeof archivePhotoSchema>

const photoAnswer = z
  .strictObject({
    id: z.string(),
    individual: z.string(),
    widthPx: z.number().int(),
    heightPx: z.number().int(),
    onSheet: z.boolean().meta({ description: 'whether its care sheet and public page show it' }),
    addedAt: z.string(),
    version: z.number().int(),
  })
  .meta({ id: 'Photo' })
export type PhotoAnswer = z.input<typeof photoAnswer>

export const photoApi = {
  create: describeApi({
    id: 'createPhoto',
    method: 'post',
    path: '/individuals/{id}/photos',
    tag: 'Animals',
    summary: 'Add a photo of an animal; the first one goes on its care sheet',
    permission: 'individual:write',
    params: individualParams,
    body: z.strictObject({ picture }),
    answer: photoAnswer,
  }),
  list: describeApi({
    id: 'listPhotos',
    method: 'get',
    path: '/individuals/{id}/photos',
    tag: 'Animals',
    summary: 'The photos of an animal, newest first',
    permission: 'individual:read',
    params: individualParams,
    answer: z.strictObject({ items: z.array(photoAnswer) }),
  }),
}
