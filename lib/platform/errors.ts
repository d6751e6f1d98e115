/** A refusal that a person can cause and mend. The code is stable; the message is a sentence for the screen. */
export class AppError extends Error {
  readonly code: RefusalCode
  readonly fields: FieldError[]
  readonly present: unknown

  constructor(code: RefusalCode, message: string, more: { fields?: FieldError[]; present?: unknown } = {}) {
    super(message)
    this.name = 'AppError'
    this.code = code
    this.fields = more.fields ?? []
    this.present = more.present
  }
}

export type FieldError = { path: string; message: string }

/** Every refusal with its HTTP status, in one place for actions and routes alike. */
export const REFUSAL_STATUS = {
  invalid: 422,
  'key-reused': 422,
  unauthorised: 401,
  forbidden: 403,
  'not-cleared': 403,
  'not-found': 404,
  stale: 409,
  'already-gone': 409,
  'more-than-left': 409,
  'container-taken': 409,
  'already-recorded': 409,
  'already-reversed': 409,
  'name-taken': 409,
  'last-owner': 409,
  expired: 409,
  'too-large': 413,
  'too-many': 429,
  busy: 503,
} as const
export type RefusalCode = keyof typeof REFUSAL_STATUS

/** A value that was wrong at a named field. */
export function refuseField(path: string, message: string): AppError {
  return new AppError('invalid', message, { fields: [{ path, message }] })
}

/** A record that is not there, or not this workspace's: the two look the same from outside. */
export function refuseUnknown(what: string): AppError {
  return new AppError('not-found', `There is no such ${what} here.`)
}

/**
 * Something that can only be a mistake of ours.
 * @throws Error with the given text when the condition does not hold
 */
export function invariant(condition: unknown, text: string): asserts condition {
  if (!condition) throw new Error(`invariant: ${text}`)
}
