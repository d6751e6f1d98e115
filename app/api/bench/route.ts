import { loadBenchWho } from '@/lib/features/bench/loaders'
import { recordBenchOperations } from '@/lib/features/bench/mutations'
import { benchBodySchema } from '@/lib/features/bench/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { readSignedIn } from '@/lib/platform/current-session'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { listFieldErrors } from '@/lib/platform/field-errors'
import { listOwnScopes } from '@/lib/platform/own-scopes'

const BODY_LIMIT_LETTERS = 200_000

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
    const { operations } = await readBody(request)
    const scopes = await listOwnScopes(person.personId)
    const answers = await recordBenchOperations({ personId: person.personId, scopes }, operations)
    return Response.json({ answers }, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    return problemResponse(readFailure(error, 'post /api/bench'))
  }
}

/** Only a page of this service sends JSON with its own Origin: a form of another site can do neither. */
async function readBody(request: Request) {
  if (request.headers.get('origin') === null)
    throw new AppError('forbidden', 'This is sent by pages of the service only.')
  if (!request.headers.get('content-type')?.startsWith('application/json'))
    throw new AppError('invalid', 'The body has to be JSON.')
  const text = await request.text()
  if (text.length > BODY_LIMIT_LETTERS) throw new AppError('too-large', 'That is too much at once.')
  const parsed = benchBodySchema.safeParse(parseJson(text))
  if (parsed.success) return parsed.data
  throw new AppError('invalid', 'The body needs another look.', { fields: listFieldErrors(parsed.error) })
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    throw new AppError('invalid', 'The body is not JSON.')
  }
}
