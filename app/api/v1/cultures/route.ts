import { loadCultureAnswers } from '@/lib/features/culture/loaders'
import { createCultures } from '@/lib/features/culture/mutations'
import { cultureApi } from '@/lib/features/culture/schema'
import { pageOf } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(cultureApi.list, async ({ tx, workspace, query }) => {
  const { limit, cursor, line, state } = query
  const rows = await loadCultureAnswers(tx, workspace, { line, state, after: cursor, limit: limit + 1 })
  return pageOf(rows, limit, (row) => row)
})

export const POST = apiRoute(cultureApi.create, async ({ tx, scope, workspace, body }) => {
  const { value, warnings } = await createCultures(tx, { scope, workspace }, body)
  return { cultures: await loadCultureAnswers(tx, workspace, { ids: value, limit: value.length }), warnings }
})
