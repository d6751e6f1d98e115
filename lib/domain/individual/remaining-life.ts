import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { CareProfile } from '../care-profile/profile'
import { thresholdsOf } from '../development/clock'
import type { SexKnown } from '../development/instar-length'
import { FUTURE_TEMPERATURE_SD_C } from '../development/parameters'
import {
  type ChanceWithin,
  chancesWithin,
  type DateWindow,
  dateWindow,
  expectedEffectiveDays,
  futureOf,
} from '../development/window'
import type { Lognormal } from '../probability/lognormal'
import { normalAbove, Z_OF_90 } from '../probability/normal'
import { inputOf, type KnownSurroundings, type LivedRecord } from './outlook'

/** Until when an adult will probably live: dates by which it has died, and the chance of that within days. */
export type RemainingLife = DateWindow & { chanceWithin: ChanceWithin[]; reason: string }

const SPANS = [7, 14, 30, 60]
/** Of an adult that came as one, so many ages when it came are weighed. */
const AGE_NODES = 12

/**
 * Adult life is lognormal in effective days, the profile's weeks read as its 10–90 % range, and conditional on the
 * life already had. An adult that came as one may then have been of any age, as far as adults of that age live. Null
 * for nymphs, and where no temperature is known.
 */
export function remainingLifeOf(animal: LivedRecord, known: KnownSurroundings): RemainingLife | null {
  const { record, history, profile, sex, today, futureTemperatureSdC } = inputOf(animal, known)
  const { adultSinceOn } = record
  if (adultSinceOn === null || history.length === 0) return null
  const sdC = futureTemperatureSdC ?? FUTURE_TEMPERATURE_SD_C
  const future = futureOf({ history, thresholds: thresholdsOf(profile), sdC }, today)
  const spent = Math.max(0, expectedEffectiveDays(future, adultSinceOn, today))
  // Who sold it may have said when it became adult: then its age is known.
  const isSeen = record.moults.some(({ final }) => final) || record.baselineLastMoultOn === adultSinceOn
  const sexes: readonly SexKnown[] = sex === 'unsexed' ? ['male', 'female'] : [sex]
  const lives = sexes.flatMap((one) => possibleLives(adultLife(profile, one), { spent, isSeen }))
  const alive = lives.reduce((sum, { weight, life, age }) => sum + weight * outliving(life, age), 0)
  if (alive <= 0) return null
  const chanceBy = (days: number) =>
    days <= 0
      ? 0
      : 1 -
        lives.reduce((sum, { weight, life, age }) => sum + weight * outliving(life, age + days), 0) / alive
  const window = dateWindow(future, chanceBy)
  if (!window) return null
  const reason = sayReason(profile, { sexes, adultSinceOn, isSeen, today })
  return { ...window, chanceWithin: chancesWithin(future, chanceBy, SPANS), reason }
}

function adultLife(profile: CareProfile, sex: SexKnown): Lognormal {
  const { min, max } = profile.keeping.adultLifeWeeks[sex].value
  const [shortest, longest] = [Math.log(min * 7), Math.log(Math.max(max, min * 1.02) * 7)]
  return { logMean: (shortest + longest) / 2, logSd: (longest - shortest) / (2 * Z_OF_90) }
}

type PossibleLife = { weight: number; life: Lognormal; age: number }

function possibleLives(
  life: Lognormal,
  { spent, isSeen }: { spent: number; isSeen: boolean },
): PossibleLife[] {
  if (isSeen) return [{ weight: 1, life, age: spent }]
  const longest = Math.exp(life.logMean + 2 * life.logSd)
  return Array.from({ length: AGE_NODES }, (_, index) => ({
    weight: 1 / AGE_NODES,
    life,
    age: spent + ((index + 0.5) / AGE_NODES) * longest,
  }))
}

function outliving({ logMean, logSd }: Lognormal, age: number): number {
  if (age <= 0) return 1
  return normalAbove(Math.min(35, (Math.log(age) - logMean) / Math.max(1e-6, logSd)))
}

type Said = { sexes: readonly SexKnown[]; adultSinceOn: PlainDate; isSeen: boolean; today: PlainDate }

function sayReason(profile: CareProfile, { sexes, adultSinceOn, isSeen, today }: Said): string {
  const weeks = sexes.map((sex) => {
    const { min, max } = profile.keeping.adultLifeWeeks[sex].value
    return `${sex}s usually live ${min}–${max} weeks as adults`
  })
  const since = isSeen
    ? `Adult since ${writeDay(adultSinceOn, today)}`
    : `Here as an adult since ${writeDay(adultSinceOn, today)}, of unknown age`
  return `${since}; ${weeks.join(', ')} at the profile’s warmth (care profile).`
}
