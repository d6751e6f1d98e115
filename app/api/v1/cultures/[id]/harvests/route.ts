import { loadCultureAnswer } from '@/lib/features/culture/loaders'
import { recordHarvest } from '@/lib/features/culture/mutations'
import { cultureApi } from '@/lib/features/culture/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(cultureApi.harvest, async ({ tx, scope, workspace, params, body }) => {
  const { warnings } = await recordHarvest(tx, { scope, workspace }, { ...body, culture: params.id })
  return { culture: await loadCultureAnswer(tx, workspace, params.id), warnings }
})
