import { addDays } from '@/lib/domain/calendar/date'
import { moultChancesAhead } from '@/lib/domain/development/forecast'
import type { TravellingAnimal } from '@/lib/domain/dispatch/animal'
import { windowOf } from '@/lib/domain/dispatch/from-records'
import type { DispatchQuestion, OrderedLine } from '@/lib/domain/dispatch/order'
import { profileOf, steady } from './profile'

export const TODAY = '2026-11-30'
const profile = profileOf('hymenopus-coronatus')
const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
export const tropical = profile.dispatch.gate.value
export const temperate = profileOf('mantis-religiosa').dispatch.gate.value

/** A nymph so many days after its last moult, by the care profile alone. */
export function animal(
  id: string,
  daysSinceMoult: number,
  changes: Partial<TravellingAnimal> = {},
): TravellingAnimal {
  const moults = changes.moults ?? 3
  const isAdult = changes.isAdult ?? false
  const lastMoultOn = addDays(TODAY, -daysSinceMoult)
  const input = {
    profile,
    sex: 'female' as const,
    moults,
    isAdult,
    instarStartedOn: lastMoultOn,
    history: steady(26),
    today: TODAY,
  }
  const hardening = profile.handling.hardeningDays.value
  const softUntil = addDays(lastMoultOn, isAdult ? hardening.adult : hardening.nymph)
  return {
    id,
    label: id,
    scientificName: 'Hymenopus coronatus',
    speciesId: 'hymenopus',
    sex: 'female',
    moults,
    isAdult,
    softUntil: softUntil > TODAY ? softUntil : null,
    hardeningDays: hardening,
    chances: isAdult ? null : moultChancesAhead(input),
    gate: tropical,
    leastMoults: 2,
    moultWindow: () => windowOf(input),
    gone: null,
    quarantineUntil: null,
    incidents: [],
    lastFedOn: addDays(TODAY, -1),
    lastRefusedOn: null,
    mealEveryDays: 2,
    ...changes,
  }
}

export const line = (number: number, changes: Partial<OrderedLine> = {}): OrderedLine => ({
  number,
  speciesId: 'hymenopus',
  words: 'Hymenopus coronatus, 4th instar',
  sex: 'any',
  stage: { fromMoults: 3, untilMoults: 3, takes: 'nymph' },
  count: 1,
  chosen: [],
  ...changes,
})

export function question(changes: Partial<DispatchQuestion> = {}): DispatchQuestion {
  return {
    today: TODAY,
    horizonDays: 28,
    lines: [line(1, { chosen: ['A'] })],
    animals: [animal('A', 6)],
    rules: { weekdays: [1, 2, 3], transitDays: 1, closedDays: [] },
    air: [],
    isCollected: false,
    naming,
    ...changes,
  }
}

export const mild = (days: number) =>
  Array.from({ length: days }, (_, index) => addDays(TODAY, index)).flatMap((on) => [
    { end: 'here' as const, on, lowC: 14, highC: 22 },
    { end: 'there' as const, on, lowC: 13, highC: 24 },
  ])
