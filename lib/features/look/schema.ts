import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const newLooksSchema = z.strictObject({
  on: plainDateSchema,
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(2000, 'At most 2000 at once.'),
})
export type NewLooks = z.output<typeof newLooksSchema>

export const lookApi = {
  create: describeApi({
    id: 'recordLooks',
    method: 'post',
    path: '/looks',
    tag: 'Animals',
    summary: 'Record cups that were passed, their animals unchanged',
    permission: 'individual:write',
    body: newLooksSchema,
    answer: z.strictObject({ recorded: z.number().int() }),
  }),
}
