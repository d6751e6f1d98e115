import { AppError } from '@/lib/platform/errors'

const BODY_LIMIT_LETTERS = 200_000

/**
 * What a device sends of itself, as JSON. Only a page of this service sends JSON with its own Origin: a form of another
 * site can do neither. @throws AppError forbidden, invalid, too-large
 */
export async function readDeviceBody(request: Request): Promise<unknown> {
  if (request.headers.get('origin') === null)
    throw new AppError('forbidden', 'This is sent by pages of the service only.')
  if (!request.headers.get('content-type')?.startsWith('application/json'))
    throw new AppError('invalid', 'The body has to be JSON.')
  const text = await request.text()
  if (text.length > BODY_LIMIT_LETTERS) throw new AppError('too-large', 'That is too much at once.')
  try {
    return JSON.parse(text)
  } catch {
    throw new AppError('invalid', 'The body is not JSON.')
  }
}
