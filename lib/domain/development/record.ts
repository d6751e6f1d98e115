import type { PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { TemperatureHistory } from './clock'

/**
 * What is on record of one animal's growth (or of `count` animals of a clutch that cannot be told apart),
 * as the learning wants it. Everything that ended or went on is evidence: a moult within the span in which
 * it happened, an instar that was still running when somebody last looked.
 */
export type DevelopmentRecord = {
  animalId: string
  /** Animals of one clutch share its growth; null for an animal of unknown clutch. */
  clutchId: string | null
  sex: Sex
  /** Alike animals this record stands for; 1 unless said otherwise. */
  count?: number
  /** Seen in the running instar, or in the one that ended last. */
  hasWingBuds?: boolean
  /** Starts of instars, in order of moults: 0 is the hatch. Stages nobody saw may be missing. */
  starts: readonly RecordedStart[]
  /** Last day on which the instar begun by the last start was seen running; null for adults. */
  runningOn: PlainDate | null
  /** Was the last start the final moult? */
  isAdult: boolean
  /** Temperatures lived through; share one object between animals of one zone. */
  history: TemperatureHistory
}

/** The instar after `moults` moults began on one of these days, all equally likely; the same day twice where it was seen. */
export type RecordedStart = {
  moults: number
  earliestOn: PlainDate
  latestOn: PlainDate
  /** Somebody was asked and said that it is right: never taken for mis-keyed. */
  isConfirmed?: boolean
}
