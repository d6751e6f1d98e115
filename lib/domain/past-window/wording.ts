import { daysBetween, type PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { GivenWindow } from './given'
import type { Coverage, Outcome } from './judge'

/** With fewer judged windows nothing is said about how good they are. */
export const FEWEST_TO_JUDGE = 10

/** "41 of 50 windows held." Parts of a window are rounded: what matters is how many, and the parts are told apart. */
export function sayHeld({ judged, held }: Coverage): string {
  if (judged === 0) return 'No window is over yet.'
  return `${Math.round(held)} of ${writeCount(judged, 'window')} held.`
}

/** "Of the 9 that did not, 6 came later than said and 3 earlier." Empty where all held. */
export function sayMissed({ judged, held, late }: Coverage): string {
  const missed = judged - Math.round(held)
  if (missed === 0) return ''
  const later = Math.min(missed, Math.round(late))
  const earlier = missed - later
  if (missed === 1)
    return later === 1 ? 'The other came later than said.' : 'The other came earlier than said.'
  if (later === 0) return `The other ${missed} came earlier than said.`
  if (earlier === 0) return `The other ${missed} came later than said.`
  return `Of the ${missed} that did not, ${later} came later than said and ${earlier} earlier.`
}

/** What to make of it, against the chances that the windows gave themselves. */
export function sayTrust(coverage: Coverage): string {
  const { judged, held, said, saidSd, early, late } = coverage
  if (judged === 0) return ''
  if (judged < FEWEST_TO_JUDGE)
    return `${writeCount(judged, 'window')} ${judged === 1 ? 'is' : 'are'} too few to say how good they are.`
  const expected = `By their own chances about ${Math.round(said)} should have`
  const surplus = held - said
  if (Math.abs(surplus) <= 2 * saidSd) return `${expected}: that is as good as they said they are.`
  if (surplus > 0) return `${expected}: they are wider than they need to be.`
  const lean = late > 2 * early ? ', and allow for later' : early > 2 * late ? ', and allow for earlier' : ''
  return `${expected}: take them as wider than they say${lean}.`
}

/** What is left out, and why: nothing that is not known is counted for or against. */
export function listLeftOut({ open, left, unseen, inParts, stillRunning }: Coverage): string[] {
  return [
    open > 0 ? `${writeCount(open, 'window')} not over yet` : '',
    left > 0 ? `${left} left or died before their window was over` : '',
    unseen > 0 ? `${unseen} not looked at since their window ended` : '',
    inParts > 0 ? `${inParts} noticed over several days, so counted in parts` : '',
    stillRunning > 0 ? `${stillRunning} of the late ones have not come to this day` : '',
  ].filter(Boolean)
}

/** "It came on 3 Nov, 2 days later." Of a window that was judged and did not hold. */
export function sayMiss({ p10, p90, came }: GivenWindow & Pick<Outcome, 'came'>, today: PlainDate): string {
  if (!came) return 'It has not come since.'
  const { earliestOn, latestOn } = came
  const when = earliestOn === latestOn ? `on ${writeDay(latestOn, today)}` : `by ${writeDay(latestOn, today)}`
  const days = latestOn < p10 ? daysBetween(latestOn, p10) : daysBetween(p90, latestOn)
  if (days <= 0) return `It came ${when}, noticed over several days.`
  return `It came ${when}, ${writeCount(days, 'day')} ${latestOn < p10 ? 'earlier' : 'later'}.`
}
