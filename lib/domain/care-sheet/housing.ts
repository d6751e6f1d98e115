import { addDays, type PlainDate } from '../calendar/date'
import { bodyLengthMm, type Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import type { MoultForecast } from '../development/forecast'

/**
 * The smallest container an animal needs, as multiples of its body length, rounded up to 5 mm; and the
 * free space below its perch, which is larger before the final moult.
 */
export type HousingNeed = { lengthMm: number; heightMm: number; widthMm: number; hangSpaceMm: number }

export type HousedAnimal = {
  sex: Sex
  moults: number
  isAdult?: boolean /** The next moult makes it adult. */
  isNextFinal?: boolean
}

export function housingNeed(profile: CareProfile, animal: HousedAnimal): HousingNeed {
  const lengthMm = bodyLengthMm(profile, animal)
  const { heightFactor, widthFactor, hangSpaceFactor, finalHangSpaceFactor } = profile.housing
  const hangSpace = animal.isNextFinal && !animal.isAdult ? finalHangSpaceFactor.value : hangSpaceFactor.value
  return {
    lengthMm,
    heightMm: roundUp(lengthMm * heightFactor.value),
    widthMm: roundUp(lengthMm * widthFactor.value),
    hangSpaceMm: roundUp(lengthMm * hangSpace),
  }
}

/** Now and after the next moult; adults have no next. */
export function housingNowAndNext(
  profile: CareProfile,
  animal: HousedAnimal,
): { now: HousingNeed; next: HousingNeed | null } {
  const now = housingNeed(profile, animal)
  if (animal.isAdult) return { now, next: null }
  const moulted = { sex: animal.sex, moults: animal.moults + 1, isAdult: animal.isNextFinal }
  return { now, next: housingNeed(profile, moulted) }
}

/** Is a container of these inner measures large enough? */
export function hasRoom(need: HousingNeed, inner: { heightMm: number; widthMm: number }): boolean {
  return inner.heightMm >= need.heightMm && inner.widthMm >= need.widthMm
}

/** The last day to move it up: never inside the window of a moult. Null where no window is known. */
export function lastDayToMoveUp(forecast: MoultForecast): PlainDate | null {
  return forecast.status === 'forecast' ? addDays(forecast.p10, -1) : null
}

function roundUp(lengthMm: number): number {
  return Math.ceil(lengthMm / 5 - 1e-9) * 5
}
