import { addDays, maxDate, type PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import { type HousingNeed, housingNowAndNext, lastDayToMoveUp } from '../care-sheet/housing'
import type { MoultForecast } from '../development/forecast'
import { medianInstarDays, openCourses } from '../development/instar-length'
import { fits, fittingKinds, type SizedKind } from './fitting'

/** One singly housed animal as its container sees it. */
export type GrowingAnimal = {
  id: string
  profile: CareProfile
  sex: Sex
  moults: number
  isAdult: boolean
  nextMoult: MoultForecast | null
  /** First day on which it may be handled again; null when it is not soft. */
  softUntil: PlainDate | null
  /** It may moult any day: the cup stays closed. */
  isInWindow: boolean
  kindId: string | null
}

/**
 * `now`: its container is too small already. `before-moult`: large enough today, too small after the next moult.
 * `to` is the smallest kind that will do after it; null where there is none. `lastSafeOn` is the last day before the
 * window of the moult, null where no window is known or it stands in it already.
 */
export type MoveUp = {
  animal: GrowingAnimal
  urgency: 'now' | 'before-moult'
  need: HousingNeed
  nextNeed: HousingNeed | null
  to: SizedKind | null
  lastSafeOn: PlainDate | null
  /** Better not today: soft, or about to moult. */
  notBefore: PlainDate | null
}

/** What an animal needs next, or null where its container will do. */
export function moveUpOf(
  animal: GrowingAnimal,
  kinds: readonly SizedKind[],
  today: PlainDate,
): MoveUp | null {
  const { profile, nextMoult } = animal
  const { now, next } = housingNowAndNext(profile, { ...animal, isNextFinal: isNextFinal(animal) })
  const present = kinds.find(({ id }) => id === animal.kindId)
  if (!present) return null
  const isTooSmall = !fits(present, now)
  if (!isTooSmall && (next === null || fits(present, next))) return null
  const lastSafe = nextMoult ? lastDayToMoveUp(nextMoult) : null
  return {
    animal,
    urgency: isTooSmall ? 'now' : 'before-moult',
    need: now,
    nextNeed: next,
    to: fittingKinds(kinds, profile, grown(animal))[0] ?? null,
    lastSafeOn: lastSafe !== null && lastSafe >= today ? lastSafe : null,
    notBefore: restUntil(animal),
  }
}

function restUntil({ softUntil, isInWindow, nextMoult }: GrowingAnimal): PlainDate | null {
  if (softUntil !== null) return softUntil
  return isInWindow && nextMoult?.status === 'forecast' ? nextMoult.leaveAlone.until : null
}

function isNextFinal({ profile, sex, moults, nextMoult }: GrowingAnimal): boolean {
  if (nextMoult?.status === 'forecast') return nextMoult.chanceFinal >= 0.5
  const known = sex === 'male' ? 'male' : 'female'
  return moults + 1 >= profile.growth.moultsToAdult[known].value.typical
}

function grown(animal: GrowingAnimal) {
  if (animal.isAdult) return animal
  return { sex: animal.sex, moults: animal.moults + 1, isAdult: isNextFinal(animal) }
}

/** One container changed for another on a day, by so much of an animal: later ones may not live to need it. */
export type ContainerChange = { on: PlainDate; fromKindId: string | null; toKindId: string; animals: number }

/** Later windows are wide: so many days before the expected moult the animal should be in its next container. */
const DAYS_BEFORE_LATER_MOULT = 4

/**
 * The containers an animal will be moved into up to a day: the next moult by its forecast, later ones by the
 * median lengths of the instars at the present warmth, each weighed with the chance of living to see it.
 */
export function containerChanges(
  animal: GrowingAnimal,
  kinds: readonly SizedKind[],
  span: { today: PlainDate; until: PlainDate; effectiveDaysPerDay: number },
): ContainerChange[] {
  const changes: ContainerChange[] = []
  let kindId = animal.kindId
  let animals = 1
  for (const { on, step } of comingSteps(animal, span)) {
    const present = kinds.find(({ id }) => id === kindId)
    const { now, next } = housingNowAndNext(animal.profile, { ...step, isNextFinal: isNextFinal(step) })
    if (!present || !fits(present, next ?? now)) {
      const to = fittingKinds(kinds, animal.profile, grown(step))[0]
      if (to && to.id !== kindId) {
        changes.push({ on: maxDate(span.today, on), fromKindId: kindId, toKindId: to.id, animals })
        kindId = to.id
      }
    }
    animals *= survivalOf(step)
  }
  return changes
}

/** By when the container for each coming moult has to be there, soonest first. */
function comingSteps(
  animal: GrowingAnimal,
  { today, until, effectiveDaysPerDay }: { today: PlainDate; until: PlainDate; effectiveDaysPerDay: number },
): { on: PlainDate; step: GrowingAnimal }[] {
  const { nextMoult } = animal
  if (animal.isAdult || nextMoult?.status !== 'forecast' || effectiveDaysPerDay <= 0)
    return [{ on: today, step: animal }]
  const steps = [{ on: maxDate(today, addDays(nextMoult.p10, -1)), step: animal }]
  let moultOn = nextMoult.p50
  let step: GrowingAnimal = {
    ...animal,
    moults: animal.moults + 1,
    nextMoult: null,
    isAdult: isNextFinal(animal),
  }
  while (!step.isAdult) {
    moultOn = addDays(moultOn, Math.round(meanInstarDays(step) / effectiveDaysPerDay))
    const on = addDays(moultOn, -DAYS_BEFORE_LATER_MOULT)
    if (on > until) break
    steps.push({ on, step })
    step = { ...step, moults: step.moults + 1, isAdult: isNextFinal(step) }
  }
  return steps
}

function meanInstarDays({ profile, sex, moults }: GrowingAnimal): number {
  return openCourses(profile, { sex, moults }).reduce(
    (sum, course) => sum + course.weight * medianInstarDays(profile, course, moults),
    0,
  )
}

function survivalOf(step: GrowingAnimal): number {
  const { first, second, third, later, finalMoult } = step.profile.growth.survival.value
  if (isNextFinal(step)) return finalMoult
  return [first, second, third][step.moults] ?? later
}
