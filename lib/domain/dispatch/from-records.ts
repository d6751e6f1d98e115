import type { PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { feedingAdvice } from '../care-sheet/feeding'
import { type DevelopmentInput, forecastNextWindow, moultChancesAhead } from '../development/forecast'
import { instarStart } from '../individual/instar-start'
import {
  developmentInput,
  inputOf,
  type KnownSurroundings,
  type OutlookInput,
  softUntilOf,
} from '../individual/outlook'
import { lastMoultOn, moultsOf } from '../individual/record'
import { whereaboutsSentence } from '../individual/whereabouts'
import { formatCode } from '../label/code'
import { type LeavingAnimal, livedIncidents, presentZone } from '../sale/leave-of-animal'
import type { TravellingAnimal } from './animal'

/** How experienced the buyer is; whoever is not known gets what is usually sold. */
export type Recipient = { isBeginner: boolean }

export type RecordedAnimal = LeavingAnimal & { speciesId: string; scientificName: string }

/** An animal as a journey asks about it, from everything on record. */
export function travellerOf(
  animal: RecordedAnimal,
  known: KnownSurroundings,
  recipient: Recipient,
): TravellingAnimal {
  const input = inputOf(animal, known)
  const { profile, record, today } = input
  const isAdult = record.adultSinceOn !== null
  const moults = moultsOf(record)
  const label = formatCode(animal.label)
  return {
    id: animal.id,
    label,
    scientificName: animal.scientificName,
    speciesId: animal.speciesId,
    sex: animal.sex,
    moults,
    isAdult,
    softUntil: softUntilOf(input),
    hardeningDays: profile.handling.hardeningDays.value,
    ...foreseen(input),
    gate: profile.dispatch.gate.value,
    leastMoults: leastMoults(profile, recipient),
    gone: animal.whereabouts === 'single' ? null : whereaboutsSentence(animal, today).replace(label, 'It'),
    quarantineUntil: presentZone(animal, known)?.quarantineUntil ?? null,
    incidents: livedIncidents(animal, known),
    lastFedOn: animal.lastFedOn,
    lastRefusedOn: unexplainedRefusal(animal.lastRefusedOn, lastMoultOn(record)),
    mealEveryDays: feedingAdvice(profile, { sex: animal.sex, moults, isAdult }).everyDays,
  }
}

function leastMoults({ handling }: CareProfile, { isBeginner }: Recipient): number {
  return isBeginner ? handling.beginnersFromMoults.value : handling.saleFromMoults.value
}

/** Without a temperature nothing is foreseen. */
function foreseen(input: OutlookInput): Pick<TravellingAnimal, 'chances' | 'moultWindow'> {
  if (input.history.length === 0 || input.record.adultSinceOn !== null)
    return { chances: null, moultWindow: () => null }
  const development = developmentInput(input, instarStart(input.record, input))
  return { chances: moultChancesAhead(development), moultWindow: () => windowOf(development) }
}

/** The window of the next moult; null where no date can be given. */
export function windowOf(development: DevelopmentInput): { p10: PlainDate; p90: PlainDate } | null {
  const window = forecastNextWindow(development)
  return window.status === 'forecast' ? { p10: window.p10, p90: window.p90 } : null
}

/** Fasting before a moult is over with it. */
export function unexplainedRefusal(
  refusedOn: PlainDate | null,
  moultedOn: PlainDate | null,
): PlainDate | null {
  return refusedOn !== null && moultedOn !== null && refusedOn <= moultedOn ? null : refusedOn
}
