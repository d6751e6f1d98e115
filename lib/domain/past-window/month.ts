import { addDays, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { KeptAnimal, KeptClutch } from '../growth/evidence'
import type { GrowthEvidence } from '../growth/fit'
import type { KeptEggCase } from '../growth/hatch-evidence'

/**
 * Records of a species with what is needed to see them as they were known on any earlier day: `seenOn` are days on
 * which an animal was looked at, the last one of each month, ascending.
 */
export type DatedEvidence = Omit<GrowthEvidence, 'animals'> & {
  animals: readonly (KeptAnimal & { seenOn: readonly PlainDate[] })[]
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
  const { leftOn, adultSinceOn } = animal
  const hasLeft = leftOn !== null && leftOn <= asOf
  return {
    ...animal,
    moults: animal.moults.filter(({ on }) => on <= asOf),
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
    sightings: clutch.sightings.filter(({ on }) => on <= asOf),
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
    hatches: eggCase.hatches.filter(({ on }) => on <= asOf),
    endedOn: isOver ? endedOn : null,
    isInfertile: isOver && eggCase.isInfertile,
    stays: eggCase.stays.filter(({ from }) => from <= asOf),
  }
}
