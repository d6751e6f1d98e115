import { loadRestorerHere } from '@/lib/features/workspace-copy/loaders'
import { restoreWorkspaceCopy } from '@/lib/features/workspace-copy/mutations'
import { LARGEST_FILE_BYTES, type Restored, restorePlaceSchema } from '@/lib/features/workspace-copy/schema'
import type { ActionResult } from '@/lib/platform/action-result'
import { readFailure } from '@/lib/platform/failure'
import { withSentFile } from '@/lib/platform/file-stream'
import { readInput } from '@/lib/platform/input'

/** The form's file: an action would hold all of it in memory, and is bounded to less. */
export async function POST(request: Request): Promise<Response> {
  return Response.json(await take(request), { headers: { 'cache-control': 'private, no-store' } })
}

async function take(request: Request): Promise<ActionResult<Restored>> {
  const person = await loadRestorerHere()
  if (!person) return { status: 'signed-out' }
  const place = readInput(restorePlaceSchema, Object.fromEntries(new URL(request.url).searchParams))
  if (place.status !== 'ok')
    return {
      status: 'refused',
      code: 'invalid',
      message: 'Please look at the marked fields.',
      fields: place.fields,
    }
  try {
    const work = (path: string) => restoreWorkspaceCopy({ path, place: place.data, person })
    return { status: 'done', value: await withSentFile(request, LARGEST_FILE_BYTES, work) }
  } catch (error) {
    const failure = readFailure(error, 'restore a workspace')
    if ('reference' in failure) return { status: 'failed', reference: failure.reference }
    const { code, message, fields } = failure.refusal
    return { status: 'refused', code, message, fields }
  }
}
