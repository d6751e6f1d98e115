import { recordMoults } from '@/lib/features/moult/mutations'
import { moultApi } from '@/lib/features/moult/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(moultApi.createMany, async ({ tx, workspace, body }) => {
  const sent = body.moults.map((moult, index) => ({
    ...moult,
    at: `moults.${index}.`,
    spanField: 'seenBetween' as const,
  }))
  const { value, warnings } = await recordMoults(tx, workspace, sent)
  return { moults: value, warnings }
})
