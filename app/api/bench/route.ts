import { loadBenchWho } from '@/lib/features/bench/loaders'
import { recordBenchOperations } from '@/lib/features/bench/mutations'
import { benchBodySchema } from '@/lib/features/bench/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { readSignedIn } from '@/lib/platform/current-session'
import { readDeviceBody } from '@/lib/platform/device-body'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { listFieldErrors } from '@/lib/platform/field-errors'
import { listOwnScopes } from '@/lib/platform/own-scopes'

/** Who is signed in on the device: its page is the same for everybody, so it has to ask. */
export async function GET(): Promise<Response> {
  try {
    return Response.json(await loadBenchWho(), { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'get /api/bench'))
  }
}

/**
 * Takes what a device has queued at the bench. A route of its own because the ids of actions die with each build,
 * and a device may come back with the entries of last month.
 */
export async function POST(request: Request): Promise<Response> {
  try {
    const person = await readSignedIn()
    if (!person) throw new AppError('unauthorised', 'Sign in to send what this device has kept.')
    const parsed = benchBodySchema.safeParse(await readDeviceBody(request))
    if (!parsed.success)
      throw new AppError('invalid', 'The body needs another look.', { fields: listFieldErrors(parsed.error) })
    const scopes = await listOwnScopes(person.personId)
    const answers = await recordBenchOperations({ personId: person.personId, scopes }, parsed.data.operations)
    return Response.json({ answers }, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'post /api/bench'))
  }
}
