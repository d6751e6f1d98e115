import { loadStallPart, requireStallScope } from '@/lib/features/stall/loaders'
import { recordPartTaken } from '@/lib/features/stall/mutations'
import { readTakePart } from '@/lib/features/stall/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { readDeviceBody } from '@/lib/platform/device-body'
import { readFailure } from '@/lib/platform/failure'
import { inWorkspace } from '@/lib/platform/workspace'

/** Gives a part of a show box to this device, with all it needs to sell from it alone. */
export async function POST(request: Request): Promise<Response> {
  try {
    const { workspaceId, ...wanted } = readTakePart(await readDeviceBody(request))
    const { scope, name } = await requireStallScope(workspaceId)
    const part = await inWorkspace(scope, async (tx, workspace) => {
      await recordPartTaken(tx, { scope, workspace }, wanted)
      return loadStallPart(tx, { scope, workspace }, { ...wanted, person: name })
    })
    return Response.json(part, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'post /api/stall/parts'))
  }
}
