import type { PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { learnClutchCounts } from '../development/clutch-moults'
import {
  type LearnedInstarCounts,
  learnInstarCounts,
  withLearnedInstarCounts,
} from '../development/instar-count'
import { learnDevelopment, withLearnedThreshold } from '../development/learning'
import type { LearnedDevelopment } from '../development/posterior'
import { type LearnedHatch, learnHatch } from '../hatch/learning'
import type { ZonesById } from '../zone/history'
import { type Doubt, listDoubts } from './doubt'
import { developmentRecords, type KeptRecords } from './evidence'
import { hatchRecords, type KeptEggCase } from './hatch-evidence'
import { type LearnedSurvival, learnSurvival, withLearnedSurvival } from './survival'

/** All that the records of one species in one workspace say about its growth and its egg cases. */
export type GrowthEvidence = KeptRecords & { eggCases: readonly KeptEggCase[] }

/**
 * `growth` are the profile's growth values with what was learned of them (number of instars, lower threshold, survival); the
 * effects in `development` count from these, so they are kept together.
 */
export type GrowthFit = {
  growth: CareProfile['growth']
  development: LearnedDevelopment
  instarCounts: LearnedInstarCounts
  survival: LearnedSurvival
  hatch: LearnedHatch
  doubts: Doubt[]
}

/** One fit of everything, as it was known on the day. Linear in the number of records. */
export function fitGrowth(
  profile: CareProfile,
  evidence: GrowthEvidence,
  known: { zones: ZonesById; asOf: PlainDate },
): GrowthFit {
  const records = developmentRecords(evidence, known)
  const instarCounts = learnInstarCounts(profile, records)
  const counted = withLearnedInstarCounts(profile, instarCounts)
  const development = withClutchCounts(
    learnDevelopment(counted, records),
    learnClutchCounts(profile, records),
  )
  const survival = learnSurvival(counted, evidence.animals, known.asOf)
  const learnt = withLearnedSurvival(withLearnedThreshold(counted, development), survival)
  return {
    growth: learnt.growth,
    development,
    instarCounts,
    survival,
    hatch: learnHatch(learnt, hatchRecords(learnt, evidence.eggCases, known)),
    doubts: listDoubts(learnt, { records, development, isConfirmed: confirmedIn(evidence) }),
  }
}

/** Siblings are alike in how many moults they make, so those who are done say something of the others. */
function withClutchCounts(
  development: LearnedDevelopment,
  counts: ReturnType<typeof learnClutchCounts>,
): LearnedDevelopment {
  const clutches = Object.entries(development.clutches).map(([id, effect]) => {
    const moultsToAdult = counts[id]
    return [id, moultsToAdult ? { ...effect, moultsToAdult } : effect] as const
  })
  return { ...development, clutches: Object.fromEntries(clutches) }
}

/** Whether somebody has said that a date which looks wrong is right. */
function confirmedIn({ animals }: KeptRecords): (animalId: string, moults: number) => boolean {
  const confirmed = new Set(
    animals.flatMap(({ id, moults }) =>
      moults.filter(({ isConfirmed }) => isConfirmed).map(({ number }) => `${id} ${number}`),
    ),
  )
  return (animalId, moults) => confirmed.has(`${animalId} ${moults}`)
}

/** Is there anything to learn from? */
export function hasEvidence({ animals, eggCases }: GrowthEvidence): boolean {
  return animals.length > 0 || eggCases.length > 0
}
