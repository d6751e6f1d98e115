import { RateLimiterPostgres, type RateLimiterRes } from 'rate-limiter-flexible'
import { authPool } from '@/lib/platform/auth-database'
import { AppError } from '@/lib/platform/errors'

const LIMITS = {
  'sign-in-account': { points: 8, duration: 15 * 60 },
  'sign-in-address': { points: 60, duration: 15 * 60 },
  'sign-up-address': { points: 20, duration: 60 * 60 },
  'reset-account': { points: 5, duration: 60 * 60 },
  'reset-address': { points: 20, duration: 60 * 60 },
  'confirm-account': { points: 5, duration: 60 * 60 },
  'confirm-address': { points: 60, duration: 60 * 60 },
  'password-account': { points: 8, duration: 15 * 60 },
  'calendar-feed': { points: 120, duration: 60 * 60 },
  'api-token': { points: 1_200, duration: 60 },
} as const
export type ThrottleName = keyof typeof LIMITS

const limiters = new Map<ThrottleName, RateLimiterPostgres>()

function limiterFor(name: ThrottleName): RateLimiterPostgres {
  const known = limiters.get(name)
  if (known) return known
  const made = new RateLimiterPostgres({
    storeClient: authPool(),
    tableName: 'throttle',
    tableCreated: true,
    keyPrefix: name,
    ...LIMITS[name],
  })
  limiters.set(name, made)
  return made
}

/**
 * Counts one attempt, atomically, for every process at once.
 * @throws AppError too-many with the seconds to wait in `present`
 */
export async function countAttempt(name: ThrottleName, key: string): Promise<void> {
  try {
    await limiterFor(name).consume(key.toLowerCase())
  } catch (refused) {
    if (refused instanceof Error) throw refused
    const seconds = Math.max(1, Math.ceil((refused as RateLimiterRes).msBeforeNext / 1000))
    throw new AppError('too-many', `Too many attempts. Try again in ${describeWait(seconds)}.`, {
      present: { retryAfterSeconds: seconds },
    })
  }
}

/** A success clears the account's count, so that a person who mistyped twice is not held back later. */
export async function forgetAttempts(name: ThrottleName, key: string): Promise<void> {
  await limiterFor(name).delete(key.toLowerCase())
}

function describeWait(seconds: number): string {
  return seconds < 90 ? `${seconds} seconds` : `${Math.ceil(seconds / 60)} minutes`
}
