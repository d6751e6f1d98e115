import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const newFeedingSchema = z.strictObject({
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(2000, 'At most 2000 at once.'),
  on: plainDateSchema,
  ate: z.boolean(),
  prey: z.string().trim().max(60).default(''),
})
export type NewFeeding = z.output<typeof newFeedingSchema>

/** The screen asks for one of two words. */
export const feedingFormSchema = newFeedingSchema
  .omit({ ate: true })
  .extend({ result: z.enum(['ate', 'refused']) })
export type FeedingForm = z.output<typeof feedingFormSchema>

export function readNewFeeding({ result, ...rest }: FeedingForm): NewFeeding {
  return { ...rest, ate: result === 'ate' }
}

export const feedingApi = {
  create: describeApi({
    id: 'recordFeedings',
    method: 'post',
    path: '/feedings',
    tag: 'Animals',
    summary: 'Record that animals ate, or refused',
    permission: 'individual:write',
    body: newFeedingSchema,
    answer: z.strictObject({ recorded: z.number().int() }),
  }),
}
