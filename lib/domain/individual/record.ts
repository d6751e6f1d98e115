import { maxDate, minDate, type PlainDate } from '../calendar/date'
import type { SeenSign } from './growth-sign'

/**
 * What is on record about one animal's growth. The baseline is what was known when the record began: moults
 * since hatch, and the day of the last of them where somebody saw it. Every later moult is numbered on from there.
 */
export type GrowthRecord = {
  /** Hatch of its clutch; null for animals that came from elsewhere. */
  hatchedOn: PlainDate | null
  /** Last day of a hatch that went over several; the same day where left out. */
  hatchedUntilOn?: PlainDate | null
  baselineOn: PlainDate
  baselineMoults: number
  baselineLastMoultOn: PlainDate | null
  /** Day of the final moult, or the day it came here as an adult. */
  adultSinceOn: PlainDate | null
  /** In order of their number. */
  moults: readonly RecordedMoult[]
  /** What was seen of how far it is; none where left out. */
  signs?: readonly SeenSign[]
}

export const MOULT_OUTCOMES = ['good', 'bad', 'lost_limb'] as const
export type MoultOutcome = (typeof MOULT_OUTCOMES)[number]

/** A moult as it was noticed: on a day, and since when it may have happened (null: seen on the day itself). */
export type RecordedMoult = {
  number: number
  on: PlainDate
  seenFrom: PlainDate | null
  outcome: MoultOutcome
  final: boolean
  /** Somebody said that its date is right although it looks wrong. */
  isConfirmed?: boolean
}

/** The record as it was known on a day: a moult counts from the day it was noticed. */
export function recordAsOf<R extends GrowthRecord>(record: R, asOf: PlainDate): R {
  const isAdultYet = record.adultSinceOn !== null && record.adultSinceOn <= asOf
  return {
    ...record,
    adultSinceOn: isAdultYet ? record.adultSinceOn : null,
    ...(record.hatchedUntilOn ? { hatchedUntilOn: minDate(record.hatchedUntilOn, asOf) } : {}),
    moults: record.moults.filter((moult) => moult.on <= asOf),
    ...(record.signs ? { signs: record.signs.filter(({ on }) => on <= asOf) } : {}),
  }
}

/** The last day on which it can have hatched: it was there when its own record began. Null without a hatch day. */
export function latestHatchOn({ hatchedOn, hatchedUntilOn, baselineOn }: GrowthRecord): PlainDate | null {
  return hatchedOn && maxDate(hatchedOn, minDate(hatchedUntilOn ?? hatchedOn, baselineOn))
}

/** Moults since hatch, as far as recorded. */
export function moultsOf(record: GrowthRecord): number {
  return record.moults.at(-1)?.number ?? record.baselineMoults
}

/** Day of the last moult, null where none was ever seen. */
export function lastMoultOn(record: GrowthRecord): PlainDate | null {
  return record.moults.at(-1)?.on ?? record.baselineLastMoultOn
}
