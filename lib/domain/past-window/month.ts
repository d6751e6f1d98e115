import { addDays, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { KeptAnimal, KeptClutch } from '../growth/evidence'
import type { KeptEggCase } from '../growth/hatch-evidence'

/** `knownOn`: it was entered later than its own day, on this one. */
type Entered = { on: PlainDate; knownOn?: PlainDate }

/**
 * Records of a species with what is needed to see them as they were known on any earlier day: `seenOn` are days on
 * which an animal was looked at, the last one of each month, ascending. A record counts from the day it was entered;
 * where its animal, clutch or egg case was not here yet either, the history came with it and counts by its own days.
 */
export type DatedEvidence = {
  animals: readonly DatedAnimal[]
  clutches: readonly (KeptClutch & { sightings: readonly Entered[] })[]
  eggCases: readonly (KeptEggCase & { hatches: readonly Entered[] })[]
}
export type DatedAnimal = Omit<KeptAnimal, 'moults'> & {
  moults: readonly (KeptAnimal['moults'][number] & Entered)[]
  seenOn: readonly PlainDate[]
  /** The day its leaving was entered, where that was later. */
  leftKnownOn?: PlainDate
}

/** When somebody could know of it. */
export const knownOnOf = ({ on, knownOn }: Entered): PlainDate => knownOn ?? on

/** The day an entry was made, by what was entered late. */
export type LateEntry = {
  kind: 'moult' | 'left' | 'hatch' | 'sighting'
  subjectId: string
  on: PlainDate
  knownOn: PlainDate
}

/** The records with the days on which late ones were entered. Linear in both. */
export function withEntries(evidence: DatedEvidence, late: readonly LateEntry[]): DatedEvidence {
  const found = new Map(late.map((entry) => [`${entry.kind} ${entry.subjectId} ${entry.on}`, entry.knownOn]))
  const dated = <E extends { on: PlainDate }>(kind: LateEntry['kind'], id: string, entry: E): E & Entered => {
    const knownOn = found.get(`${kind} ${id} ${entry.on}`)
    return knownOn ? { ...entry, knownOn } : entry
  }
  return {
    animals: evidence.animals.map((animal) => {
      const leftKnownOn = animal.leftOn ? found.get(`left ${animal.id} ${animal.leftOn}`) : undefined
      const moults = animal.moults.map((moult) => dated('moult', animal.id, moult))
      return { ...animal, moults, ...(leftKnownOn ? { leftKnownOn } : {}) }
    }),
    clutches: evidence.clutches.map((clutch) => ({
      ...clutch,
      sightings: clutch.sightings.map((seen) => dated('sighting', clutch.id, seen)),
    })),
    eggCases: evidence.eggCases.map((eggCase) => ({
      ...eggCase,
      hatches: eggCase.hatches.map((hatch) => dated('hatch', eggCase.id, hatch)),
    })),
  }
}

/** One month of looking back: the fit is that of the day before it begins. */
export type PastMonth = { from: PlainDate; until: PlainDate }

export const fittedOn = ({ from }: PastMonth): PlainDate => addDays(from, -1)

/** Whole months from the first record up to today, the newest `most`, oldest first; `until` is the first day after. */
export function listPastMonths(evidence: DatedEvidence, today: PlainDate, most: number): PastMonth[] {
  const first = firstRecordOn(evidence)
  if (first === null || first > today) return []
  const months: PastMonth[] = []
  let from = `${today.slice(0, 7)}-01`
  let until = addDays(today, 1)
  while (until > first && months.length < most) {
    months.unshift({ from, until })
    until = from
    from = `${addDays(from, -1).slice(0, 7)}-01`
  }
  return months
}

function firstRecordOn({ animals, eggCases }: DatedEvidence): PlainDate | null {
  const days = [
    ...animals.map(({ baselineOn }) => baselineOn),
    ...eggCases.flatMap(({ stays }) => stays.slice(0, 1).map(({ from }) => from)),
  ]
  return days.reduce<PlainDate | null>((first, day) => (first === null || day < first ? day : first), null)
}

/** The records as they were known at the end of a day. Linear in their number. */
export function evidenceAsOf(evidence: DatedEvidence, asOf: PlainDate): DatedEvidence {
  return {
    animals: evidence.animals
      .filter(({ baselineOn }) => baselineOn <= asOf)
      .map((one) => animalAsOf(one, asOf)),
    clutches: evidence.clutches
      .filter(({ hatchedOn }) => hatchedOn <= asOf)
      .map((one) => clutchAsOf(one, asOf)),
    eggCases: evidence.eggCases
      .filter(({ stays }) => (stays[0]?.from ?? asOf) <= asOf)
      .map((one) => eggCaseAsOf(one, asOf)),
  }
}

function animalAsOf<A extends DatedEvidence['animals'][number]>(animal: A, asOf: PlainDate): A {
  const { leftOn, leftKnownOn, adultSinceOn } = animal
  const hasLeft = leftOn !== null && (leftKnownOn ?? leftOn) <= asOf
  return {
    ...animal,
    moults: animal.moults.filter((moult) => knownOnOf(moult) <= asOf),
    stays: animal.stays.filter(({ from }) => from <= asOf),
    seenOn: animal.seenOn.filter((on) => on <= asOf),
    lastSeenOn: animal.seenOn.findLast((on) => on <= asOf) ?? null,
    adultSinceOn: adultSinceOn !== null && adultSinceOn <= asOf ? adultSinceOn : null,
    leftOn: hasLeft ? leftOn : null,
    diedMoulting: hasLeft && animal.diedMoulting,
    hasDied: hasLeft && animal.hasDied === true,
  }
}

function clutchAsOf(clutch: KeptClutch, asOf: PlainDate): KeptClutch {
  return {
    ...clutch,
    hatchedUntilOn: maxDate(clutch.hatchedOn, minDate(clutch.hatchedUntilOn, asOf)),
    sightings: clutch.sightings.filter((seen) => knownOnOf(seen) <= asOf),
    stays: clutch.stays.filter(({ from }) => from <= asOf),
  }
}

function eggCaseAsOf(eggCase: KeptEggCase, asOf: PlainDate): KeptEggCase {
  const { coldRest, endedOn } = eggCase
  const isOver = endedOn !== null && endedOn <= asOf
  const isResting = coldRest !== null && coldRest.startedOn <= asOf
  const hasRested = isResting && coldRest.endedOn !== null && coldRest.endedOn <= asOf
  return {
    ...eggCase,
    coldRest: isResting ? { ...coldRest, endedOn: hasRested ? coldRest.endedOn : null } : null,
    hatches: eggCase.hatches.filter((hatch) => knownOnOf(hatch) <= asOf),
    endedOn: isOver ? endedOn : null,
    isInfertile: isOver && eggCase.isInfertile,
    stays: eggCase.stays.filter(({ from }) => from <= asOf),
  }
}
