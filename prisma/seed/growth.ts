import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import type { SeedStream } from './stream'

export type DrawnMoult = {
  number: number
  day: number
  seenFromDay: number | null
  final: boolean
  bad: boolean
}
export type DrawnLife = {
  sex: 'male' | 'female'
  moults: DrawnMoult[]
  deathDay: number | null
  cause: 'bad_moult' | 'starved' | 'old_age' | 'unknown'
}

export type LifeSettings = {
  profile: CareProfile
  hatchDay: number
  /** effective days that a day at the animal's place brings */
  rateOf: (day: number) => number
  /** growth of this clutch, and of this animal within it, against the profile (1 = as the profile says) */
  pace: number
  untilDay: number
}

/**
 * Draws one animal's life from its care profile: instar after instar, each with its chance of dying, until its
 * adult life is over or the story's last day is reached. A fifth of the moults is noticed a few days late.
 */
export function drawLife(settings: LifeSettings, stream: SeedStream): DrawnLife {
  const sex = stream.chance(0.5) ? 'male' : 'female'
  const { typical, oneFewerShare, oneMoreShare } = settings.profile.growth.moultsToAdult[sex].value
  const u = stream.uniform()
  const totalMoults = typical + (u < oneFewerShare ? -1 : u > 1 - oneMoreShare ? 1 : 0)
  const moults: DrawnMoult[] = []
  let startDay = settings.hatchDay
  for (let moult = 0; moult < totalMoults; moult++) {
    const isLast = moult === totalMoults - 1
    const dies = !stream.chance(survivalOf(settings.profile, moult, isLast))
    const median = medianInstarDays(settings.profile, { sex, totalMoults }, moult) * settings.pace
    const moultDay = dayAfter(startDay, median * Math.exp(0.12 * stream.normal()), settings.rateOf)
    if (dies) {
      const deathDay = Math.round(startDay + (moultDay - startDay) * (0.3 + 0.7 * stream.uniform()))
      return {
        sex,
        moults,
        deathDay: within(deathDay, settings),
        cause: isLast ? 'bad_moult' : stream.pick(['unknown', 'starved', 'bad_moult']),
      }
    }
    if (moultDay > settings.untilDay) return { sex, moults, deathDay: null, cause: 'unknown' }
    moults.push(notice({ number: moult + 1, moultDay, final: isLast, untilDay: settings.untilDay }, stream))
    startDay = moultDay
  }
  const weeks = settings.profile.keeping.adultLifeWeeks[sex].value
  const adultDays = 7 * (weeks.min + (weeks.max - weeks.min) * stream.uniform())
  return { sex, moults, deathDay: within(Math.round(startDay + adultDays), settings), cause: 'old_age' }
}

function within(deathDay: number, settings: LifeSettings): number | null {
  return deathDay <= settings.untilDay ? deathDay : null
}

function notice(
  moult: { number: number; moultDay: number; final: boolean; untilDay: number },
  stream: SeedStream,
): DrawnMoult {
  const late = stream.chance(0.2) ? 1 + Math.floor(stream.uniform() * 3) : 0
  const day = Math.min(moult.moultDay + late, moult.untilDay)
  return {
    number: moult.number,
    day,
    seenFromDay: day > moult.moultDay ? moult.moultDay - 1 : null,
    final: moult.final,
    bad: stream.chance(0.015),
  }
}

function dayAfter(startDay: number, effectiveDays: number, rateOf: (day: number) => number): number {
  let left = effectiveDays
  let day = startDay
  while (left > 0 && day < startDay + 400) {
    left -= rateOf(day)
    day++
  }
  return day
}

function survivalOf(profile: CareProfile, moult: number, isLast: boolean): number {
  const survival = profile.growth.survival.value
  if (isLast) return survival.finalMoult
  return [survival.first, survival.second, survival.third][moult] ?? survival.later
}
