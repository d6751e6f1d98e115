import { randomUUID } from 'node:crypto'
import { readRefusal } from '@/lib/platform/database-error'
import type { AppError } from '@/lib/platform/errors'
import { log } from '@/lib/platform/log'

export type Failure = { refusal: AppError } | { reference: string }

/** Sorts what was thrown: a refusal to be read by a person, or a bug that is logged under a reference. */
export function readFailure(error: unknown, where: string): Failure {
  const refusal = readRefusal(error)
  if (refusal?.code === 'busy')
    log.warn({ where, error: error instanceof Error ? error.message : String(error) }, 'too much at once')
  if (refusal) return { refusal }
  const reference = randomUUID().slice(0, 8)
  log.error(
    { reference, where, error: error instanceof Error ? error.stack : String(error) },
    'something went wrong',
  )
  return { reference }
}
