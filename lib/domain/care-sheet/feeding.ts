import { bodyLengthMm, type Sex } from '../care-profile/body-length'
import type { CareProfile, PreyItem, PreyPortion } from '../care-profile/profile'

/**
 * What one animal is offered: kinds of prey that fit its body, how many each time, how often. Chosen by
 * body length rather than by the number of the instar, since that is what the prey has to fit.
 */
export type Offering = { item: PreyItem; min: number; max: number }

export type FeedingAdvice = {
  lengthMm: number
  longestPreyMm: number
  everyDays: number
  /** Alternatives, first choice first; numbers per offering. */
  offerings: Offering[]
}

export type FedAnimal = { sex: Sex; moults: number; isAdult?: boolean }

export function feedingAdvice(profile: CareProfile, animal: FedAnimal): FeedingAdvice {
  const lengthMm = bodyLengthMm(profile, animal)
  const everyDays = daysBetweenFeedings(profile, animal)
  const portions = animal.isAdult ? adultPortions(profile, lengthMm) : nymphPortions(profile, lengthMm)
  const avoided = profile.feeding.avoids.value
  const share =
    animal.isAdult && animal.sex === 'male' && isLarge(profile, lengthMm)
      ? profile.feeding.maleShare.value
      : 1
  const offerings = portions
    .filter(({ item }) => !avoided.includes(item))
    .map((portion) => perOffering(portion, (everyDays / portion.perDays) * share))
  return { lengthMm, longestPreyMm: lengthMm * profile.feeding.preyLengthShare.value, everyDays, offerings }
}

/** Now and after the next moult; `isNextFinal` when that makes it adult. Adults have no next. */
export function feedingNowAndNext(
  profile: CareProfile,
  animal: FedAnimal & { isNextFinal?: boolean },
): { now: FeedingAdvice; next: FeedingAdvice | null } {
  const now = feedingAdvice(profile, animal)
  if (animal.isAdult) return { now, next: null }
  const moulted = { sex: animal.sex, moults: animal.moults + 1, isAdult: animal.isNextFinal }
  return { now, next: feedingAdvice(profile, moulted) }
}

function daysBetweenFeedings(profile: CareProfile, animal: FedAnimal): number {
  const { young, older, adult } = profile.feeding.everyDays.value
  if (animal.isAdult) return adult
  return animal.moults <= 2 ? young : older
}

function nymphPortions(profile: CareProfile, lengthMm: number): PreyPortion[] {
  const rungs = [...profile.feeding.nymphRungs.value].sort((a, b) => a.fromLengthMm - b.fromLengthMm)
  return (rungs.findLast((rung) => rung.fromLengthMm <= lengthMm) ?? rungs[0])?.portions ?? []
}

function adultPortions(profile: CareProfile, lengthMm: number): PreyPortion[] {
  const { small, large } = profile.feeding.adultPortions.value
  return isLarge(profile, lengthMm) ? large : small
}

function isLarge(profile: CareProfile, lengthMm: number): boolean {
  return lengthMm > profile.feeding.largeFromMm.value
}

function perOffering(portion: PreyPortion, times: number): Offering {
  const min = Math.max(1, Math.round(portion.min * times))
  return { item: portion.item, min, max: Math.max(min, Math.round(portion.max * times)) }
}
