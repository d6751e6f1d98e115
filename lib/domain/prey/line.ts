import type { PreyItem } from '../care-profile/profile'
import type { Range, Sourced } from '../care-profile/value'

/**
 * A prey line: one kind of live food as a room keeps or buys it. Every figure says where it comes from; the
 * defaults are common practice and are replaced, figure by figure, by what a workspace knows or has learned.
 * A line of one's own is any value of this shape.
 */
export type PreyLine = {
  id: string
  name: string
  /** Length of one item, mm. */
  lengthMm: Sourced<Range>
  /**
   * What of a care profile's portions the line stands for: one item of this line counts as so many of that
   * one. First choice first.
   */
  standsFor: Sourced<readonly Equivalent[]>
  /** Body length of the animals that take it, mm; no upper end where `max` is null. */
  takenByLengthMm: Sourced<{ min: number; max: number | null }>
  supply: PreySupply
}

export type Equivalent = { item: PreyItem; counts: number }

/** How it is had. */
export type PreySupply =
  | ({ kind: 'culture' } & CultureSupply)
  | ({ kind: 'pupae' } & PupaeSupply)
  | ({ kind: 'bought' } & BoughtSupply)

export type CultureSupply = {
  yield: Sourced<YieldValues>
  curve: Sourced<CurveValues>
  starters: Sourced<number>
  /** Medium and jar, minor units. */
  startCostMinor: Sourced<number>
  /** What the starters of one culture cost when stock has none, minor units. */
  starterCostMinor: Sourced<number>
  minutesPerStart: Sourced<number>
  /** Share of adults that die in the cup a day. */
  dailyDeathRate: Sourced<number>
  discardAfterDays: Sourced<number>
  /** Live batches of different age that a line in use is never without. */
  minimumBatches: Sourced<number>
}

/** Of cultures that did not crash; a crash gives `crashShare` of the mean. */
export type YieldValues = { mean: number; cv: number; crashChance: number; crashShare: number }

/**
 * Emergence: laying, gamma in effective days, then development, lognormal in effective days. An effective day
 * is one at `referenceC`; the rate is in proportion to (T − thresholdC).
 */
export type CurveValues = {
  layingShape: number
  layingScaleDays: number
  developmentDays: number
  developmentLogSd: number
  referenceC: number
  thresholdC: number
  /** Above this the line is sterile or crashes, °C. */
  harmfulAboveC: number
}

type Orders = {
  packSize: Sourced<number>
  packCostMinor: Sourced<number>
  /** ISO weekdays on which the supplier takes orders; the order of a day closes with it. */
  orderWeekdays: Sourced<readonly number[]>
  /** Days from order to arrival. */
  leadDays: Sourced<number>
}

export type PupaeSupply = Orders & {
  /** Days from warming to emergence (10–90 %) at `referenceC`, for part-grown pupae as they are bought. */
  emergence: Sourced<{ minDays: number; maxDays: number; referenceC: number; thresholdC: number }>
  /** Share that emerges. */
  emergingShare: Sourced<number>
  /** Days pupae keep at 4–6 °C. */
  fridgeDays: Sourced<Range>
  dailyDeathRate: Sourced<number>
}

export type BoughtSupply = Orders & {
  /** Days until they have outgrown their size or died, from arrival. */
  keepDays: Sourced<number>
  dailyDeathRate: Sourced<number>
}
