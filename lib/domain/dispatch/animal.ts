import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { Sex } from '../care-profile/body-length'
import type { InstarNaming } from '../instar/label'
import { instarLabel } from '../instar/label'
import { type DayHeat, incidentWarning } from '../zone/incident'
import { isQuarantined } from '../zone/quarantine'
import { type Fitness, fitnessOn, type MoultCourse, type StageWanted } from './fitness'
import { type Packing, packingFor, type TemperatureGate } from './gate'
import type { Journey, JourneyAir } from './journey'

/** An animal as far as a journey asks about it. */
export type TravellingAnimal = MoultCourse & {
  id: string
  label: string
  scientificName: string
  speciesId: string
  sex: Sex
  gate: TemperatureGate
  /** From so many moults on it is old enough for this buyer. */
  leastMoults: number
  /** 10–90 % window of its next moult, for the words; null where none is foreseen. */
  moultWindow: () => { p10: PlainDate; p90: PlainDate } | null
  /** Why it is not here to be sent ("It is already sold."); null where it is. */
  gone: string | null
  quarantineUntil: PlainDate | null
  incidents: readonly DayHeat[]
  lastFedOn: PlainDate | null
  lastRefusedOn: PlainDate | null
  /** Usual days between its meals. */
  mealEveryDays: number
}

export const BLOCK_CODES = [
  'gone',
  'quarantine',
  'zone-incident',
  'soft',
  'too-young',
  'past-stage',
  'moult-expected',
  'unforeseen',
  'refusing',
  'unfed',
  'temperature',
] as const
export type BlockCode = (typeof BLOCK_CODES)[number]

export type AnimalBlock = { code: BlockCode; message: string }

/** May it travel: with which chance, packed how; or what is in the way, worst first. `duty`: what to do before. */
export type AnimalCheck = {
  fitness: Fitness
  packing: Packing | null
  block: AnimalBlock | null
  duty: string | null
}

export type CheckRules = {
  today: PlainDate
  naming: InstarNaming
  air: JourneyAir
  handing: { isNextDay: boolean; isCollected: boolean }
  leastChance?: number
  signDays?: number
}

export const LEAST_CHANCE = 0.9
/** A refusal older than this says nothing about today; the check at the counter counts the same way. */
const REFUSAL_COUNTS_DAYS = 7

export function checkAnimal(
  animal: TravellingAnimal,
  { journey, stage, rules }: { journey: Journey; stage: StageWanted; rules: CheckRules },
): AnimalCheck {
  const enough = rules.leastChance ?? LEAST_CHANCE
  const { today, signDays } = rules
  const fitness = fitnessOn(animal, { journey, stage, today, signDays, enough })
  const { range } = rules.air
  const packing = range ? packingFor(animal.gate, range, rules.handing) : null
  const asked = { journey, stage, rules, fitness, packing }
  const block =
    placeBlock(animal, journey, rules.today) ??
    bodyBlock(animal, asked) ??
    foodBlock(animal, journey, rules.today) ??
    airBlock(animal, packing)
  return { fitness, packing, block, duty: block ? null : feedingDuty(animal, journey, rules.today) }
}

function placeBlock(animal: TravellingAnimal, { packOn }: Journey, today: PlainDate): AnimalBlock | null {
  const { gone, quarantineUntil, incidents } = animal
  if (gone) return { code: 'gone', message: gone }
  if (quarantineUntil && isQuarantined(quarantineUntil, packOn))
    return {
      code: 'quarantine',
      message: `Its zone is in quarantine until ${writeDay(quarantineUntil, today)}.`,
    }
  const heat = incidents.find((one) => incidentWarning([one], packOn) !== null)
  const message = heat && incidentWarning([heat], maxKnown(heat, today))
  return message ? { code: 'zone-incident', message } : null
}

/** An incident that has ended is spoken of as of its own days, so that every held day reads the same. */
function maxKnown({ beganOn, clearOn }: DayHeat, today: PlainDate): PlainDate {
  if (today < beganOn) return beganOn
  return clearOn !== null && today > clearOn ? clearOn : today
}

type Asked = { journey: Journey; stage: StageWanted; rules: CheckRules; fitness: Fitness }

function bodyBlock(animal: TravellingAnimal, asked: Asked): AnimalBlock | null {
  const { fitness, rules } = asked
  if (fitness.chance >= (rules.leastChance ?? LEAST_CHANCE)) return null
  const { softUntil, isAdult, chances } = animal
  const { today, naming } = rules
  if (softUntil && asked.journey.packOn < softUntil)
    return { code: 'soft', message: `It is soft after its moult until ${writeDay(softUntil, today)}.` }
  if (!isAdult && !chances)
    return {
      code: 'unforeseen',
      message: 'No temperature is known where it stands, so its next moult cannot be foreseen.',
    }
  if (fitness.tooYoung > 0.5) return { code: 'too-young', message: sayTooYoung(animal, asked.stage, naming) }
  if (fitness.pastStage > 0.5)
    return { code: 'past-stage', message: 'By then it has probably grown out of the stage that was ordered.' }
  return { code: 'moult-expected', message: sayMoult(animal, today) }
}

function sayTooYoung(
  { moults }: TravellingAnimal,
  { fromMoults, takes }: StageWanted,
  naming: InstarNaming,
): string {
  const now = instarLabel(moults, naming)
  const wanted = takes === 'adult' ? 'adult' : instarLabel(fromMoults, naming)
  return `It is in the ${now} and will probably not be in the ${wanted} yet.`.replace('in the adult', 'adult')
}

function sayMoult({ moultWindow }: TravellingAnimal, today: PlainDate): string {
  const window = moultWindow()
  if (!window) return 'It may moult on the way.'
  const { p10, p90 } = window
  return `It will probably moult between ${writeDay(p10, today)} and ${writeDay(p90, today)}.`
}

function foodBlock(animal: TravellingAnimal, { packOn }: Journey, today: PlainDate): AnimalBlock | null {
  const { lastFedOn, lastRefusedOn } = animal
  const hasEatenSince = lastRefusedOn === null || (lastFedOn !== null && lastFedOn >= lastRefusedOn)
  if (!hasEatenSince && daysBetween(lastRefusedOn, packOn) <= REFUSAL_COUNTS_DAYS)
    return {
      code: 'refusing',
      message: `It refused food on ${writeDay(lastRefusedOn, today)} and has not eaten since.`,
    }
  // On a later day there is still time for a meal, which is then a duty and no block.
  if (packOn > today || lastFedOn === null || !isHungry(animal, packOn)) return null
  return { code: 'unfed', message: `It has not eaten since ${writeDay(lastFedOn, today)}: feed it first.` }
}

function isHungry({ lastFedOn, mealEveryDays }: TravellingAnimal, on: PlainDate): boolean {
  return lastFedOn === null || daysBetween(lastFedOn, on) > 2 * mealEveryDays
}

function feedingDuty(animal: TravellingAnimal, { packOn }: Journey, today: PlainDate): string | null {
  const { lastFedOn } = animal
  if (lastFedOn !== null && lastFedOn >= packOn) return 'was fed that very day: better send it on the next'
  if (!isHungry(animal, packOn)) return null
  if (packOn > today) return `feed it by ${writeDay(addDays(packOn, -1), today)}, not on the day itself`
  return 'no meal is on record: see that it has eaten'
}

function airBlock({ scientificName }: TravellingAnimal, packing: Packing | null): AnimalBlock | null {
  if (packing?.way !== 'hold') return null
  return { code: 'temperature', message: `The air is not for ${scientificName}: ${packing.reason}.` }
}
