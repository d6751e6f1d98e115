import type { PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { InstarNaming } from '../instar/label'
import type { CheckRules, TravellingAnimal } from './animal'
import type { StageWanted } from './fitness'
import type { AirDay, JourneyRules } from './journey'

/** A line of an order: so many of a description; animals only once somebody chose them. */
export type OrderedLine = {
  number: number
  speciesId: string
  /** "Hymenopus coronatus, 4th instar, female" */
  words: string
  sex: Sex | 'any'
  stage: StageWanted
  count: number
  /** Chosen animals, by id; the rest is looked for among the candidates. */
  chosen: readonly string[]
}

export type DispatchQuestion = {
  /** The day from which the animals are looked at. */
  today: PlainDate
  /** First packing day asked about; today where left out. */
  from?: PlainDate
  /** So many of them. */
  horizonDays: number
  lines: readonly OrderedLine[]
  /** The chosen animals, and those that could still be chosen. */
  animals: readonly TravellingAnimal[]
  rules: JourneyRules
  air: readonly AirDay[]
  isCollected: boolean
  /** Handed over here: no air is met. */
  isHandedOver?: boolean
  naming: InstarNaming
  settings?: Pick<CheckRules, 'leastChance' | 'signDays'>
}

export const DISPATCH_HORIZON_DAYS = 42

/** What is asked of an animal that somebody has chosen: only that it is old enough. */
export function stageOfChosen({ leastMoults }: TravellingAnimal): StageWanted {
  return { fromMoults: leastMoults, untilMoults: null, takes: 'either' }
}

/** What is asked of an animal that nobody has chosen: the description, and old enough at that. */
export function stageOfCandidate({ leastMoults }: TravellingAnimal, { stage }: OrderedLine): StageWanted {
  return { ...stage, fromMoults: Math.max(stage.fromMoults, leastMoults) }
}

/** Is it of the kind and sex of a line? Its stage is asked about for the day. */
export function fitsLine(animal: TravellingAnimal, line: OrderedLine): boolean {
  return animal.speciesId === line.speciesId && (line.sex === 'any' || line.sex === animal.sex)
}
