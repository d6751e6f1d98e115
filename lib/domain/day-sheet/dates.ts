import { addDays, maxDate, type PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { HatchForecast } from '../hatch/forecast'
import type { SeparationForecast } from '../separation/deadline'
import { sayWaiting } from '../separation/wording'
import type { DayTask } from './task'

/** A day, or several, that something of the day sheet falls on: what a calendar shows weeks ahead. */
export type DayDate = {
  /** of the same thing the same: `separation-<id of the clutch>` */
  key: string
  startsOn: PlainDate
  /** the last day */
  endsOn: PlainDate
  title: string
  details: string
  /** what it leads to, below the workspace's address */
  path: string
}

type Named = { id: string; label: string; scientificName: string }

/** The day by which siblings should be apart; once it has passed it stays today's until they are. */
export function separationDate(
  clutch: Named & { together: number; forecast: SeparationForecast | null },
  today: PlainDate,
): DayDate[] {
  const { id, label, scientificName, together, forecast } = clutch
  if (!forecast?.dueOn || together < 2) return []
  const on = maxDate(today, forecast.dueOn)
  const waiting = sayWaiting(forecast.perDayNow)
  const late = forecast.lateOn ? `From ${writeDay(forecast.lateOn, today)} on each day costs an animal.` : ''
  return [
    {
      key: `separation-${id}`,
      startsOn: on,
      endsOn: on,
      title: `Separate clutch ${label}`,
      details: [`${scientificName}, ${together} together.`, waiting, late].filter(Boolean).join(' '),
      path: `/clutches/${id}`,
    },
  ]
}

/** The window in which an egg case hatches in eight of ten cases. */
export function hatchDate(eggCase: Named & { forecast: HatchForecast | null }, today: PlainDate): DayDate[] {
  const { id, label, scientificName, forecast } = eggCase
  if (forecast?.status !== 'forecast' || forecast.reminder.state === 'doubtful') return []
  const { low, typical, high } = forecast.expectedNymphs
  return [
    {
      key: `hatch-${id}`,
      startsOn: forecast.p10,
      endsOn: maxDate(forecast.p10, maxDate(forecast.p90, forecast.p10 <= today ? today : forecast.p10)),
      title: `Egg case ${label} may hatch`,
      details: `${scientificName}, about ${typical} nymphs (${low} to ${high}). Most likely ${writeDay(forecast.p50, today)}.`,
      path: `/egg-cases/${id}`,
    },
  ]
}

/** What is of today alone; deadlines and windows have dates of their own. */
const OF_TODAY = ['doubtful-egg-case', 'leave-alone', 'start-cultures', 'order-prey', 'discard-cultures']

export function taskDates(tasks: readonly DayTask[], today: PlainDate): DayDate[] {
  return tasks
    .filter(({ kind }) => OF_TODAY.includes(kind))
    .map((task) => ({
      key: `${task.kind}-${'id' in task.subject ? task.subject.id : 'all'}`,
      startsOn: today,
      endsOn: today,
      title: task.title,
      details: task.why,
      path: pathOf(task),
    }))
}

function pathOf({ subject, kind }: DayTask): string {
  if ('id' in subject && subject.type === 'egg-case') return `/egg-cases/${subject.id}`
  return kind === 'leave-alone' ? '' : '/live-food/plan'
}

/** What stood in the calendar, and what of it is to change. */
export type KeptDate = DayDate & { sequence: number; isCancelled: boolean }
export type DateChange = DayDate & { sequence: number; isCancelled: boolean }

/**
 * Which entries of a calendar have to be written anew: new ones, those that moved or say something else, and those that
 * no longer hold, which are cancelled on the day they stood on. Each rises by one in its sequence. O(n).
 */
export function changedDates(kept: readonly KeptDate[], present: readonly DayDate[]): DateChange[] {
  const keptOf = new Map(kept.map((date) => [date.key, date]))
  const presentKeys = new Set(present.map(({ key }) => key))
  const written = present.flatMap((date): DateChange[] => {
    const before = keptOf.get(date.key)
    if (before && !before.isCancelled && isSame(before, date)) return []
    return [{ ...date, sequence: before ? before.sequence + 1 : 0, isCancelled: false }]
  })
  const cancelled = kept
    .filter((date) => !date.isCancelled && !presentKeys.has(date.key))
    .map((date) => ({ ...date, sequence: date.sequence + 1, isCancelled: true }))
  return [...written, ...cancelled]
}

function isSame(one: DayDate, other: DayDate): boolean {
  return (
    one.startsOn === other.startsOn &&
    one.endsOn === other.endsOn &&
    one.title === other.title &&
    one.details === other.details &&
    one.path === other.path
  )
}

/** A cancelled entry is told for so long, so that every reader has seen it. */
export const CANCELLED_FOR_DAYS = 60

export function firstDayTold(today: PlainDate): PlainDate {
  return addDays(today, -CANCELLED_FOR_DAYS)
}
