import { loadCultureAnswer } from '@/lib/features/culture/loaders'
import { recordMark } from '@/lib/features/culture/mutations'
import { cultureApi } from '@/lib/features/culture/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(cultureApi.mark, async ({ tx, workspace, params, body }) => {
  const { warnings } = await recordMark(tx, workspace, { ...body, culture: params.id })
  return { culture: await loadCultureAnswer(tx, workspace, params.id), warnings }
})
