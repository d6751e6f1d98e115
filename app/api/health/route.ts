import { readFailure } from '@/lib/platform/failure'
import { listMissingMigrations } from '@/lib/platform/readiness'

export const dynamic = 'force-dynamic'

/** Alive as soon as it answers; ready when the database answers too and has every migration. No secrets. */
export async function GET(): Promise<Response> {
  try {
    const missing = await listMissingMigrations()
    return answer(missing.length === 0 ? 'ready' : 'behind')
  } catch (error) {
    readFailure(error, 'health')
    return answer('no-database')
  }
}

function answer(database: 'ready' | 'behind' | 'no-database'): Response {
  return Response.json(
    { alive: true, ready: database === 'ready', database },
    { status: database === 'ready' ? 200 : 503, headers: { 'cache-control': 'no-store' } },
  )
}
