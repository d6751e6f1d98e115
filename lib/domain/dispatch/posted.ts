import type { PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import { feedingAdvice } from '../care-sheet/feeding'
import { moultChancesAhead } from '../development/forecast'
import { hardeningUntil } from '../development/hardening'
import type { TravellingAnimal } from './animal'
import { unexplainedRefusal, windowOf } from './from-records'

/** An animal that is in no records: what somebody says of it, and the profile of its species. */
export type PostedAnimal = {
  label: string
  sex: Sex
  moults: number
  isAdult: boolean
  /** The last moult, or the hatch before the first. */
  lastMoultOn: PlainDate
  /** How warm it stands, night averaged in. */
  temperatureC: number
  lastFedOn: PlainDate | null
  lastRefusedOn: PlainDate | null
  quarantineUntil: PlainDate | null
}

export type PostedSpecies = { id: string; scientificName: string; profile: CareProfile }

/** Forecast by the profile alone, from one steady temperature. */
export function travellerOfPosted(
  animal: PostedAnimal,
  { id: speciesId, scientificName, profile }: PostedSpecies,
  { today, isForBeginner }: { today: PlainDate; isForBeginner: boolean },
): TravellingAnimal {
  const { label, sex, moults, isAdult, lastMoultOn, temperatureC } = animal
  const input = {
    ...{ profile, sex, moults, isAdult, today },
    instarStartedOn: lastMoultOn,
    history: [{ from: lastMoultOn, until: null, dayC: temperatureC }],
  }
  const softUntil = moults > 0 ? hardeningUntil(profile, { lastMoultOn, isFinal: isAdult }) : null
  const { saleFromMoults, beginnersFromMoults } = profile.handling
  return {
    ...{ id: label, label, scientificName, speciesId, sex, moults, isAdult },
    softUntil: softUntil !== null && softUntil > today ? softUntil : null,
    hardeningDays: profile.handling.hardeningDays.value,
    chances: isAdult ? null : moultChancesAhead(input),
    moultWindow: () => windowOf(input),
    gate: profile.dispatch.gate.value,
    leastMoults: (isForBeginner ? beginnersFromMoults : saleFromMoults).value,
    gone: null,
    quarantineUntil: animal.quarantineUntil,
    incidents: [],
    lastFedOn: animal.lastFedOn,
    lastRefusedOn: unexplainedRefusal(animal.lastRefusedOn, lastMoultOn),
    mealEveryDays: feedingAdvice(profile, { sex, moults, isAdult }).everyDays,
  }
}
