import { AppError } from '@/lib/platform/errors'

type DatabaseCause = { code: string; message: string }

/** The SQLSTATE and original text of a database error, however Prisma wrapped it; undefined for anything else. */
export function getDatabaseCause(error: unknown): DatabaseCause | undefined {
  if (typeof error !== 'object' || error === null) return undefined
  const meta = 'meta' in error ? error.meta : undefined
  const adapterError = isRecord(meta) ? meta.driverAdapterError : error
  const cause = isRecord(adapterError) ? adapterError.cause : undefined
  if (isRecord(cause) && typeof cause.originalCode === 'string')
    return { code: cause.originalCode, message: String(cause.originalMessage ?? '') }
  if ('code' in error && typeof error.code === 'string' && /^[0-9A-Z]{5}$/.test(error.code))
    return { code: error.code, message: error instanceof Error ? error.message : '' }
  return undefined
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null
}

// Serialisation failure, deadlock, lock timeout: nothing happened, so the whole transaction may be tried again.
const RETRYABLE = new Set(['40001', '40P01', '55P03'])

export function isRetryable(error: unknown): boolean {
  const cause = getDatabaseCause(error)
  return cause !== undefined && RETRYABLE.has(cause.code)
}

// A statement that took longer than it may, or no connection within the time to wait for one: rolled back or never
// begun, so nothing happened. Not tried again, because what is slow is not helped by more of it.
const isTooSlow = ({ code, message }: DatabaseCause): boolean =>
  code === '57014' || (code === 'P2028' && /unable to start a transaction/i.test(message))

const REFUSALS: [pattern: RegExp, refuse: () => AppError][] = [
  [
    /head_count_\w+_not_negative/,
    () => new AppError('more-than-left', 'That is more animals than are left in this state.'),
  ],
  [
    /individual-elsewhere/,
    () => new AppError('already-gone', 'This animal has already left: sold, given away or dead.'),
  ],
  [/reversal-differs/, () => new AppError('stale', 'That entry cannot be reversed like this.')],
  [
    /head_count_entry_reversed_once/,
    () => new AppError('already-reversed', 'That entry has already been taken back.'),
  ],
  [
    /housing_one_animal_per_single_container/,
    () => new AppError('container-taken', 'Another animal is already in that container.'),
  ],
  [
    /housing_one_place_per_animal/,
    () => new AppError('container-taken', 'That animal is already housed on that day.'),
  ],
  [
    /clutch_housing_one_clutch_per_container/,
    () => new AppError('container-taken', 'Another clutch is already in that container.'),
  ],
  [
    /clutch-in-single/,
    () => new AppError('invalid', 'A container for one animal cannot hold siblings. Choose one for several.'),
  ],
  [
    /container-of-an-animal|container-of-another/,
    () => new AppError('container-taken', 'Another animal is already in that container.'),
  ],
  [/container-of-a-colony/, () => new AppError('container-taken', 'A colony lives in that container.')],
  [
    /colony-stages-apart/,
    () =>
      new AppError(
        'container-taken',
        'More than one instar lies between them and those inside: they may eat each other. Count who is inside, or keep them apart.',
      ),
  ],
  [
    /colony-other-species/,
    () => new AppError('invalid', 'A colony is of one species, and this clutch is of another.'),
  ],
  [
    /colony-not-allowed/,
    () => new AppError('invalid', 'By its care profile this species does not live together.'),
  ],
  [/colony-elsewhere/, () => new AppError('stale', 'This colony lives in another container.')],
  [/colony-closed/, () => new AppError('stale', 'This colony is closed.')],
  [/colony-before-opening/, () => new AppError('invalid', 'The colony began later than that day.')],
  [/colony_count_line_once/, () => new AppError('already-recorded', 'That line has just been counted.')],
  [/container-of-a-clutch/, () => new AppError('container-taken', 'A clutch is already in that container.')],
  [
    /zone_incident_never_twice/,
    () => new AppError('already-recorded', 'This time is on record as an incident already.'),
  ],
  [/sale_reversal_pkey/, () => new AppError('already-reversed', 'This sale has already been taken back.')],
  [
    /order_animal_taken_once/,
    () => new AppError('already-gone', 'This animal has been chosen for another order meanwhile.'),
  ],
  [
    /order_stock_line_(egg_case|culture)_once/,
    () => new AppError('already-gone', 'This has been put on another order meanwhile.'),
  ],
  [
    /order_payment_returned/,
    () => new AppError('more-than-left', 'That is more than is left of this payment.'),
  ],
  [
    /taken_over_once/,
    () => new AppError('already-recorded', 'These animals have been taken over here already.'),
  ],
  [
    /show_box_animal_once/,
    () => new AppError('already-gone', 'One of these animals has been put into another show box meanwhile.'),
  ],
  [
    /customer_order_sale_key|customer_order_ends_once/,
    () => new AppError('already-recorded', 'This order has already left or been taken back.'),
  ],
  [/moult_number_once/, () => new AppError('already-recorded', 'That moult is already recorded.')],
  [
    /_(name|slug|label)_key|workspace_slug_pkey/,
    () => new AppError('name-taken', 'That name is already taken.'),
  ],
  [/_fkey/, () => new AppError('not-found', 'Something this refers to is not here.')],
]

/**
 * Turns what the database refuses by a named rule into the refusal a person reads.
 * The names are the constraint names and the codes at the front of RAISE texts in prisma/migrations.
 */
export function readRefusal(error: unknown): AppError | undefined {
  if (error instanceof AppError) return error
  const cause = getDatabaseCause(error)
  if (!cause) return undefined
  if (RETRYABLE.has(cause.code) || isTooSlow(cause))
    return new AppError('busy', 'Too much happened at once. Please try again.')
  return REFUSALS.find(([pattern]) => pattern.test(cause.message))?.[1]()
}
