import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import { type GrowthRecord, lastMoultOn } from './record'

export type NewMoult = { on: PlainDate; seenFrom: PlainDate | null }
export type MoultMistake = { path: string; message: string }

/** Who asks, and until when the animal was here (null while it still is). */
export type MoultCheck = { today: PlainDate; leftOn: PlainDate | null }

/**
 * What cannot be true of a moult that somebody is about to record as short sentences.
 * Advice is no part of it: an unlikely date is recorded, only an impossible one is not.
 */
export function listMoultMistakes(
  record: GrowthRecord,
  moult: NewMoult,
  { today, leftOn }: MoultCheck,
): MoultMistake[] {
  const say = (day: PlainDate) => writeDay(day, today)
  const on = (message: string): MoultMistake[] => [{ path: 'on', message }]
  if (moult.on > today) return on('This day is in the future.')
  if (record.hatchedOn && moult.on < record.hatchedOn)
    return on(`This day is before it hatched (${say(record.hatchedOn)}).`)
  if (record.adultSinceOn && moult.on >= record.adultSinceOn)
    return on(`It is adult since ${say(record.adultSinceOn)}, and adults do not moult.`)
  if (moult.on < record.baselineOn)
    return on(`This day is before its own record begins (${say(record.baselineOn)}).`)
  const last = lastMoultOn(record)
  if (last && moult.on === last)
    return on(`It already has a moult on ${say(last)}; an animal moults once a day at most.`)
  if (last && moult.on < last) return on(`This day is before its last moult (${say(last)}).`)
  if (leftOn && moult.on > leftOn) return on(`It left on ${say(leftOn)}, before this day.`)
  return listSeenMistakes(record, moult, say)
}

function listSeenMistakes(
  record: GrowthRecord,
  { on, seenFrom }: NewMoult,
  say: (day: PlainDate) => string,
): MoultMistake[] {
  if (seenFrom === null) return []
  if (seenFrom > on) return [{ path: 'seenBetween', message: 'The span ends before it begins.' }]
  const last = lastMoultOn(record)
  if (last && seenFrom < last)
    return [{ path: 'seenBetween', message: `The span begins before its last moult (${say(last)}).` }]
  if (record.hatchedOn && seenFrom < record.hatchedOn)
    return [{ path: 'seenBetween', message: `The span begins before it hatched (${say(record.hatchedOn)}).` }]
  return []
}
