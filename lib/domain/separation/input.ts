import type { PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import type { TemperatureHistory } from '../development/clock'
import type { DevelopmentParameters } from '../development/parameters'
import type { ClutchSighting } from './sighting'

/** What a separation deadline is computed from. Everything but the first five may be unknown. */
export type SeparationInput = {
  profile: CareProfile
  hatchedOn: PlainDate
  /** Animals still together. */
  together: number
  history: TemperatureHistory
  today: PlainDate
  /** The day on which about half of the clutch had made so many moults, if somebody looked. */
  seen?: { on: PlainDate; moults: number }
  /** What was seen of them by today: it stretches their age, where `seen` does not say it outright. */
  sightings?: readonly ClutchSighting[]
  signs?: GroupSigns
  volumeMl?: number
  lossScale?: number
  parameters?: DevelopmentParameters
  settings?: Partial<SeparationSettings>
}

export type GroupSigns = {
  hasSizeGap?: boolean
  isHungry?: boolean
  /** Some have moulted and some have not: the hazard of a size gap, though it passes. */
  isMixed?: boolean
  isFoodShort?: boolean
  hasUnexpectedLosses?: boolean
}

export type SeparationSettings = {
  /** Due: fewer than the larger of these past the risk instar. */
  pastShare: number
  pastAnimals: number
  /** Late: one more day costs at least so many animals. */
  lateAnimals: number
  /** Days the cost of waiting is told for. */
  horizonDays: number
}

export const SEPARATION_SETTINGS: SeparationSettings = {
  pastShare: 0.02,
  pastAnimals: 1,
  lateAnimals: 1,
  horizonDays: 28,
}
