import { loadStallWho } from '@/lib/features/stall/loaders'
import { recordStallReceipts } from '@/lib/features/stall/mutations'
import { stallBodySchema } from '@/lib/features/stall/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { readSignedIn } from '@/lib/platform/current-session'
import { readDeviceBody } from '@/lib/platform/device-body'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { listFieldErrors } from '@/lib/platform/field-errors'
import { listOwnScopes } from '@/lib/platform/own-scopes'

/** Who is signed in on the device, and where they may sell. */
export async function GET(): Promise<Response> {
  try {
    return Response.json(await loadStallWho(), { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'get /api/stall'))
  }
}

/** Takes the receipts that a device has written at a show, when it has a connection again. */
export async function POST(request: Request): Promise<Response> {
  try {
    const person = await readSignedIn()
    if (!person) throw new AppError('unauthorised', 'Sign in to send what this device has kept.')
    const parsed = stallBodySchema.safeParse(await readDeviceBody(request))
    if (!parsed.success)
      throw new AppError('invalid', 'The body needs another look.', { fields: listFieldErrors(parsed.error) })
    const scopes = await listOwnScopes(person.personId)
    const answers = await recordStallReceipts({ personId: person.personId, scopes }, parsed.data.receipts)
    return Response.json({ answers }, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'post /api/stall'))
  }
}
