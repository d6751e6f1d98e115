import type { CareProfile } from './profile'

/** One editable number (or choice) of a profile: where it is, what to call it, what it may be. */
export type ProfileValuePath = {
  /** Dotted path inside the profile's JSON, ending inside a `value`; its source is beside that `value`. */
  path: string
  label: string
  unit: string
  group: keyof CareProfile
  minimum: number
  maximum: number
  isWhole: boolean
  /** May it be left empty (null)? */
  isOptional: boolean
}

type Bounds = { unit: string; minimum: number; maximum: number; isWhole?: boolean; isOptional?: boolean }

const DAYS: Bounds = { unit: 'days', minimum: 0, maximum: 1000 }
const TEMPERATURE: Bounds = { unit: '°C', minimum: -10, maximum: 50 }
const LENGTH: Bounds = { unit: 'mm', minimum: 1, maximum: 300 }
const SHARE: Bounds = { unit: 'share', minimum: 0, maximum: 1 }
const TIMES: Bounds = { unit: '×', minimum: 0.1, maximum: 20 }
const MOULTS: Bounds = { unit: 'moults', minimum: 0, maximum: 14, isWhole: true }
const PIECES: Bounds = { unit: '', minimum: 0, maximum: 1000, isWhole: true }
const WEEKS: Bounds = { unit: 'weeks', minimum: 0, maximum: 200 }
const PERCENT: Bounds = { unit: '%', minimum: 0, maximum: 100 }

/** Path inside the group up to and beyond `value`, label, bounds. */
type Line = [path: string, label: string, bounds: Bounds]

const GROWTH: Line[] = [
  ...(['male', 'female'] as const).flatMap((sex): Line[] => [
    [`moultsToAdult.${sex}.value.typical`, `Moults to adult, ${sex}`, { ...MOULTS, minimum: 3 }],
    [`moultsToAdult.${sex}.value.oneFewerShare`, `Share with one moult fewer, ${sex}`, SHARE],
    [`moultsToAdult.${sex}.value.oneMoreShare`, `Share with one moult more, ${sex}`, SHARE],
    [`daysToAdult.${sex}.value`, `Days to adult, ${sex}`, { ...DAYS, minimum: 10 }],
  ]),
  ['relativeLengths.value.first', 'Length of the 1st instar against the mean', TIMES],
  ['relativeLengths.value.second', 'Length of the 2nd instar against the mean', TIMES],
  ['relativeLengths.value.third', 'Length of the 3rd instar against the mean', TIMES],
  ['relativeLengths.value.middle', 'Length of a middle instar against the mean', TIMES],
  ['relativeLengths.value.beforeLast', 'Length of the instar before the last against the mean', TIMES],
  ['relativeLengths.value.last', 'Length of the last nymphal instar against the mean', TIMES],
  ['siblingLogSd.value', 'Spread of one instar between siblings', { ...SHARE, minimum: 0.02 }],
  ['survival.value.first', 'Survival of the 1st instar', SHARE],
  ['survival.value.second', 'Survival of the 2nd instar', SHARE],
  ['survival.value.third', 'Survival of the 3rd instar', SHARE],
  ['survival.value.later', 'Survival of each later instar', SHARE],
  ['survival.value.finalMoult', 'Survival of the final moult', SHARE],
  ['lowerThresholdC.value', 'No growth below', TEMPERATURE],
  ['lowerThresholdSdC.value', 'Uncertainty of that threshold', { ...TEMPERATURE, minimum: 0, maximum: 10 }],
  ['referenceC.value', 'Temperature the days to adult hold at', TEMPERATURE],
  ['upperThresholdC.value', 'No faster growth above', TEMPERATURE],
]

const BREEDING: Line[] = [
  ['readyAfterDays.male.value', 'Ready to pair after the final moult, male', DAYS],
  ['readyAfterDays.female.value', 'Ready to pair after the final moult, female', DAYS],
  ['firstEggCaseDays.value.min', 'First egg case after pairing, earliest', DAYS],
  ['firstEggCaseDays.value.max', 'First egg case after pairing, latest', DAYS],
  ['eggCases.value.min', 'Egg cases, fewest', PIECES],
  ['eggCases.value.max', 'Egg cases, most', PIECES],
  ['eggCases.value.intervalDays', 'Days between egg cases', DAYS],
  ['matingEndsAtLifeShare.value', 'Mating time ends at this share of adult life', SHARE],
]

const HATCH: Line[] = [
  ['nymphs.value.min', 'Nymphs from an egg case, fewest', PIECES],
  ['nymphs.value.typical', 'Nymphs from an egg case, typical', PIECES],
  ['nymphs.value.max', 'Nymphs from an egg case, most', PIECES],
  ['incubation.value.minDays', 'Incubation, shortest', { ...DAYS, minimum: 1 }],
  ['incubation.value.maxDays', 'Incubation, longest', { ...DAYS, minimum: 1 }],
  ['incubation.value.minC', 'Incubated at, from', TEMPERATURE],
  ['incubation.value.maxC', 'Incubated at, to', TEMPERATURE],
  ['coldRest.value.minWeeks', 'Cold rest, shortest', WEEKS],
  ['coldRest.value.maxWeeks', 'Cold rest, longest', WEEKS],
  ['coldRest.value.minC', 'Cold rest at, from', TEMPERATURE],
  ['coldRest.value.maxC', 'Cold rest at, to', TEMPERATURE],
  ['fertileShare.value', 'Share of egg cases that hatch', SHARE],
]

const KEEPING: Line[] = [
  ['bodyLengthMm.value.hatchling', 'Body length, hatchling', LENGTH],
  ['bodyLengthMm.value.adultMale', 'Body length, adult male', LENGTH],
  ['bodyLengthMm.value.adultFemale', 'Body length, adult female', LENGTH],
  ['dayC.value.min', 'Day temperature, from', TEMPERATURE],
  ['dayC.value.max', 'Day temperature, to', TEMPERATURE],
  ['hotSpotC.value', 'Hot spot up to', { ...TEMPERATURE, isOptional: true }],
  ['lowestNightC.value', 'Lowest night temperature', TEMPERATURE],
  ['humidityPct.value.min', 'Humidity, from', PERCENT],
  ['humidityPct.value.max', 'Humidity, to', PERCENT],
  ['mistingEveryDays.value', 'Days between mistings', { ...DAYS, minimum: 1, maximum: 30, isWhole: true }],
  ...(['male', 'female'] as const).flatMap((sex): Line[] => [
    [`adultLifeWeeks.${sex}.value.min`, `Adult life, ${sex}, shortest`, WEEKS],
    [`adultLifeWeeks.${sex}.value.max`, `Adult life, ${sex}, longest`, WEEKS],
  ]),
]

const SEPARATION: Line[] = [
  ['apartAtMoults.value', 'Siblings apart at moult', { ...MOULTS, minimum: 1, isOptional: true }],
  ['riskPerDay.value.0', 'Eaten per animal and day, 1st instar', SHARE],
  ['riskPerDay.value.1', 'Eaten per animal and day, 2nd instar', SHARE],
  ['riskPerDay.value.2', 'Eaten per animal and day, 3rd instar', SHARE],
  ['riskPerDay.value.3', 'Eaten per animal and day, 4th instar and later', SHARE],
  ['toleranceFactors.value.tolerant', 'Risk of a tolerant species', { ...TIMES, minimum: 0 }],
  ['toleranceFactors.value.fierce', 'Risk of a fierce species', TIMES],
  ['sizeGapFactor.value', 'Risk with a gap of one instar', TIMES],
  ['hungerRiskPerDay.value', 'Added by hunger, per animal and day', SHARE],
]

const HOUSING: Line[] = [
  ['heightFactor.value', 'Height of the container against body length', TIMES],
  ['widthFactor.value', 'Width of the container against body length', TIMES],
  ['hangSpaceFactor.value', 'Hang space against body length', TIMES],
  ['finalHangSpaceFactor.value', 'Hang space before the final moult against body length', TIMES],
]

const HANDLING: Line[] = [
  ['hardeningDays.value.nymph', 'Left alone after a nymphal moult', { ...DAYS, maximum: 30 }],
  ['hardeningDays.value.adult', 'Left alone after the final moult', { ...DAYS, maximum: 30 }],
  ['saleFromMoults.value', 'Sold from moult', MOULTS],
  ['beginnersFromMoults.value', 'Sold to beginners from moult', MOULTS],
  ['sexing.value.probableFromMoults', 'Sex is probable from moult', MOULTS],
  ['sexing.value.certainFromMoults', 'Sex is certain from moult', MOULTS],
]

const FEEDING: Line[] = [
  ['largeFromMm.value', 'Fed as a large adult from', LENGTH],
  ['maleShare.value', 'Large males eat this share of a female’s', SHARE],
  ['everyDays.value.young', 'Days between feedings, young nymphs', { ...DAYS, minimum: 1, maximum: 30 }],
  ['everyDays.value.older', 'Days between feedings, older nymphs', { ...DAYS, minimum: 1, maximum: 30 }],
  ['everyDays.value.adult', 'Days between feedings, adults', { ...DAYS, minimum: 1, maximum: 30 }],
  ['preyLengthShare.value', 'Longest prey against body length', SHARE],
]

const DISPATCH: Line[] = [
  ['gate.value.plainMinC', 'Sent plain from', TEMPERATURE],
  ['gate.value.plainMaxC', 'Sent plain up to', TEMPERATURE],
  ['gate.value.heatPackMinC', 'With a heat pack from', TEMPERATURE],
  ['gate.value.insulatedMinC', 'Insulated with a heat pack from', TEMPERATURE],
  ['gate.value.coolPackMaxC', 'With a cool pack up to', TEMPERATURE],
]

const LINES: Readonly<Record<keyof CareProfile, Line[]>> = {
  growth: GROWTH,
  breeding: BREEDING,
  hatch: HATCH,
  keeping: KEEPING,
  separation: SEPARATION,
  housing: HOUSING,
  handling: HANDLING,
  feeding: FEEDING,
  dispatch: DISPATCH,
}

const GROUPS: (keyof CareProfile)[] = [
  'growth',
  'breeding',
  'hatch',
  'keeping',
  'separation',
  'housing',
  'handling',
  'feeding',
  'dispatch',
]

const VALUE_PATHS: readonly ProfileValuePath[] = GROUPS.flatMap((group) =>
  LINES[group].map(([path, label, bounds]) => ({
    path: `${group}.${path}`,
    label,
    unit: bounds.unit,
    group,
    minimum: bounds.minimum,
    maximum: bounds.maximum,
    isWhole: bounds.isWhole ?? false,
    isOptional: bounds.isOptional ?? false,
  })),
)

/** Every editable number of a profile, in the order of the editor. */
export function profileValuePaths(): readonly ProfileValuePath[] {
  return VALUE_PATHS
}
