import { loadCalendar } from '@/lib/features/calendar-feed/loaders'
import { calendarQuerySchema } from '@/lib/features/calendar-feed/schema'
import { problemResponse } from '@/lib/platform/api/problem'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { readInput } from '@/lib/platform/input'

/**
 * A person's calendar of a workspace's dates. Outside of the wrapper, since calendars send no token but keep an address:
 * the key in it is looked up instead, and whatever is wrong with it is the same answer.
 */
export async function GET(request: Request): Promise<Response> {
  try {
    const asked = readInput(calendarQuerySchema, Object.fromEntries(new URL(request.url).searchParams))
    const calendar = asked.status === 'ok' ? await loadCalendar(asked.data.key) : null
    if (calendar === null) throw new AppError('not-found', 'There is no such calendar.')
    return new Response(calendar, {
      headers: {
        'content-type': 'text/calendar; charset=utf-8',
        'content-disposition': 'inline; filename="dates.ics"',
        'cache-control': 'no-store',
        'x-robots-tag': 'noindex',
      },
    })
  } catch (error) {
    return problemResponse(readFailure(error, 'calendar'))
  }
}
