import { listReadings } from '@/lib/features/reading/data'
import { recordReadings } from '@/lib/features/reading/mutations'
import { readingApi } from '@/lib/features/reading/schema'
import { requireZone } from '@/lib/features/zone/data'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(readingApi.list, async ({ tx, workspace, params, query }) => {
  const { id: zoneId } = await requireZone(tx, workspace.workspaceId, params.id)
  const { rows, nextCursor } = await listReadings(tx, workspace.workspaceId, { zoneId, query })
  return { items: rows.map((row) => ({ ...row, at: row.at.toISOString() })), nextCursor }
})

export const POST = apiRoute(readingApi.record, async ({ tx, scope, workspace, params, body }) => {
  const readings = body.map(({ at, temperatureC, humidityPct, isSure }) => ({
    atMs: Date.parse(at),
    temperatureC,
    humidityPct,
    isSure,
  }))
  return recordReadings(tx, { scope, workspace }, { zoneId: params.id, source: 'sensor', readings })
})
