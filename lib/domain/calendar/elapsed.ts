import { writeCount } from './wording'

const MINUTE = 60_000
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR

/** "just now", "12 minutes ago", "3 hours ago", "5 days ago", for a span in milliseconds. */
export function writeElapsed(milliseconds: number): string {
  if (milliseconds < 2 * MINUTE) return 'just now'
  if (milliseconds < HOUR) return `${writeCount(Math.floor(milliseconds / MINUTE), 'minute')} ago`
  if (milliseconds < DAY) return `${writeCount(Math.floor(milliseconds / HOUR), 'hour')} ago`
  return `${writeCount(Math.floor(milliseconds / DAY), 'day')} ago`
}
