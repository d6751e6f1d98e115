import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import { type InstarNaming, instarLabel } from '../instar/label'
import type { SeparationForecast } from './deadline'

/** "about 4 animals a day": what one more day together costs; empty where it is next to nothing. */
export function sayDailyCost(perDayNow: number): string {
  if (perDayNow >= 1.5) return `about ${Math.round(perDayNow)} animals a day`
  if (perDayNow >= 0.75) return 'about 1 animal a day'
  return perDayNow < 0.1 ? '' : `about 1 animal in ${Math.round(1 / perDayNow)} days`
}

/** The same as a colleague would say it. */
export function sayWaiting(perDayNow: number): string {
  const cost = sayDailyCost(perDayNow)
  return cost ? `Waiting costs ${cost}.` : ''
}

/** "first at 3rd instar": the oldest stage in which at least one of the siblings is expected. */
export function sayFirstStage(
  forecast: Pick<SeparationForecast, 'sharesToday'>,
  group: { together: number; naming: InstarNaming },
): string {
  const moults = forecast.sharesToday.findLastIndex((share) => share * group.together >= 1)
  return moults < 0 ? '' : `first at ${instarLabel(moults, group.naming)}`
}

/** "late since 20 Nov", "due since 18 Nov", "due on 28 Nov": the word beside the mark. */
export function sayDeadline(forecast: SeparationForecast, today: PlainDate): string {
  const { state, dueOn, lateOn } = forecast
  if (state === 'late')
    return lateOn === null || lateOn === today ? 'late' : `late since ${writeDay(lateOn, today)}`
  if (dueOn === null) return 'no deadline'
  if (state === 'due') return dueOn === today ? 'due today' : `due since ${writeDay(dueOn, today)}`
  return `due on ${writeDay(dueOn, today)}`
}
