import { loadCultureAnswer } from '@/lib/features/culture/loaders'
import { recordDiscard } from '@/lib/features/culture/mutations'
import { cultureApi } from '@/lib/features/culture/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(cultureApi.discard, async ({ tx, workspace, params, body }) => {
  const { warnings } = await recordDiscard(tx, workspace, { ...body, culture: params.id })
  return { culture: await loadCultureAnswer(tx, workspace, params.id), warnings }
})
