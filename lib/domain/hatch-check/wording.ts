import type { PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { HatchAnswer } from './answer'
import type { HatchMove } from './move'

/** The answer as a colleague would say it. */
export function sayHatchAnswer(answer: HatchAnswer, of: { typical: number; today: PlainDate }): string {
  const typical = Math.round(of.typical)
  const { raise, earlyLots, limit, load } = answer
  const day = writeDay(load.hatchOn, of.today)
  if (answer.verdict === 'all')
    return `Yes: hatching about ${day}, there are hours and containers for all ${typical}.`
  const short = limit === 'hours' ? 'hours at the bench' : 'containers'
  const until = load.dueOn ? ` by ${writeDay(load.dueOn, of.today)}, before they have to be parted` : ''
  const rest = `${writeCount(earlyLots, 'nymph')} would have to go as early lots${until}`
  if (answer.verdict === 'none')
    return `Not as things stand: hatching about ${day}, there are no ${short} for them. All ${rest}.`
  return `For ${raise} of about ${typical}: hatching about ${day}, ${short} run short. ${rest}.`
}

/** Where waiting helps, and what to do for it. Null where it does not. */
export function sayBetterDay(answer: HatchAnswer, move: HatchMove | null, today: PlainDate): string | null {
  const { betterDay } = answer
  if (!betterDay) return null
  const better = `If it hatched about ${writeDay(betterDay.on, today)} there would be room for ${betterDay.raise}.`
  if (!move) return `${better} None of your zones brings it there within what the species stands.`
  const when = move.on === today ? 'today' : `on ${writeDay(move.on, today)}`
  return `${better} Hang it in ${move.name} ${when}: then about ${writeDay(move.hatchOn, today)} is most likely.`
}
