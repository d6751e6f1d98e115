import { addDays, dateOfDay, dayNumber, maxDate, minDate, type PlainDate } from '../calendar/date'
import { type DevelopmentClock, developmentClock, effectiveDaysAt, thresholdsOf } from '../development/clock'
import { priorParameters } from '../development/parameters'
import { Z_OF_90 } from '../probability/normal'
import { SEPARATION_SETTINGS, type SeparationInput, type SeparationSettings } from './input'
import { type ClutchPace, clutchPace } from './pace'
import { type SeparationReason, separationReasons } from './reason'
import { type GroupState, riskPerAnimalDay } from './risk'
import { type ClutchStages, clutchStages, medianAgeAtMoult, sharePast, stageShares } from './stage-shares'

/**
 * Until when siblings can stay together.
 *
 * *Due*: the last day on which fewer than max(1 animal, 2 %) are expected past the species' risk instar.
 * *Late*: the first day on which one more day of waiting is expected to cost at least one animal.
 * Due is never after the day before late, and is today at the latest where something was seen that cannot
 * wait. A deadline is a forecast, not a constraint: nothing that was done is refused because of it.
 */
export type SeparationForecast = {
  state: 'fine' | 'due' | 'late'
  /** Null for colonies, a single animal, or where it is too cold to grow. */
  dueOn: PlainDate | null
  /** 10–90 % of the due date, as far as the whole clutch may be faster or slower than the profile. */
  dueBetween: { earliest: PlainDate; latest: PlainDate } | null
  lateOn: PlainDate | null
  /** Cumulative expected losses if all stay together until the start of that day; first entry today, 0. */
  costOfWaiting: { on: PlainDate; expectedLosses: number }[]
  /** Expected losses of the coming day. */
  perDayNow: number
  /** Expected share of siblings by moults made, today. */
  sharesToday: number[]
  reason: string
  reasons: SeparationReason[]
}

/** Beyond this age the siblings are adult and the question is another one. */
const SEARCH_DAYS = 300

export function forecastSeparation(input: SeparationInput): SeparationForecast {
  const clutch = prepare(input)
  const lateOn = firstLateDay(input, clutch)
  const dueOn = dueDate(input, clutch, lateOn)
  const sharesToday = stageShares(clutch.stages, ageOn(clutch, input.today))
  const reasons = separationReasons(input, { byStage: dueByStage(input, clutch, 1), dueOn, lateOn })
  return {
    state: stateOf(input.today, dueOn, lateOn),
    dueOn,
    dueBetween: dueOn ? dueBetween(input, clutch, dueOn) : null,
    lateOn,
    costOfWaiting: costOfWaiting(input, clutch),
    perDayNow: input.together * riskOn(input, clutch, { on: input.today, together: input.together }),
    sharesToday,
    reason: reasons[0]?.text ?? '',
    reasons,
  }
}

/** Expected shares of siblings by moults made, on any day: the course that the deadlines and the plan share. */
export function sharesByDay(input: SeparationInput): (on: PlainDate) => number[] {
  const clutch = prepare(input)
  return (on) => stageShares(clutch.stages, ageOn(clutch, on))
}

type Clutch = {
  stages: ClutchStages
  clock: DevelopmentClock
  hatchDay: number
  ageFactor: number
  pace: ClutchPace | null
  settings: SeparationSettings
}

function prepare(input: SeparationInput): Clutch {
  const stages = clutchStages(input.profile, input.parameters ?? priorParameters(input.profile))
  const clock = developmentClock(input.history, thresholdsOf(input.profile))
  const hatchDay = dayNumber(input.hatchedOn)
  const settings = { ...SEPARATION_SETTINGS, ...input.settings }
  const clutch: Clutch = { stages, clock, hatchDay, ageFactor: 1, pace: null, settings }
  if (!input.seen || input.seen.moults < 1) return withPace(clutch, input)
  const ageSeen = ageOn(clutch, input.seen.on)
  return { ...clutch, ageFactor: ageSeen > 0 ? medianAgeAtMoult(stages, input.seen.moults) / ageSeen : 1 }
}

function withPace(clutch: Clutch, { sightings = [], together }: SeparationInput): Clutch {
  const ageOnDay = (on: PlainDate) => ageOn(clutch, on)
  const pace = clutchPace(sightings, { stages: clutch.stages, ageOn: ageOnDay, together })
  return pace ? { ...clutch, pace, ageFactor: pace.factor } : clutch
}

/** How much faster than expected a clutch grows by what was seen of it; null where nobody looked. */
export function paceOfClutch(input: SeparationInput): ClutchPace | null {
  return prepare(input).pace
}

/** Effective days since hatch by today, stretched to agree with what was seen. */
export function ageOfClutch(input: SeparationInput): number {
  return ageOn(prepare(input), input.today)
}

/** Effective days since hatch, stretched to agree with what was seen. */
function ageOn(clutch: Clutch, on: PlainDate): number {
  return ageAtDay(clutch, dayNumber(on))
}

function ageAtDay(clutch: Clutch, day: number): number {
  const age = effectiveDaysAt(clutch.clock, day) - effectiveDaysAt(clutch.clock, clutch.hatchDay)
  return Math.max(0, age * clutch.ageFactor)
}

function riskOn(input: SeparationInput, clutch: Clutch, group: { on: PlainDate; together: number }): number {
  if (group.together < 2) return 0
  const state: GroupState = {
    shares: stageShares(clutch.stages, ageOn(clutch, group.on)),
    together: group.together,
    hasSizeGap: input.signs?.hasSizeGap || input.signs?.isMixed,
    isHungry: input.signs?.isHungry,
    volumeMl: input.volumeMl,
    lossScale: input.lossScale,
  }
  return riskPerAnimalDay(input.profile, state)
}

function firstLateDay(input: SeparationInput, clutch: Clutch): PlainDate | null {
  // Even at the highest instar's risk a small group may never lose a whole animal in a day.
  for (let offset = 0; offset <= SEARCH_DAYS; offset += 1) {
    const on = dateOfDay(clutch.hatchDay + offset)
    const costOfDay = input.together * riskOn(input, clutch, { on, together: input.together })
    if (costOfDay >= clutch.settings.lateAnimals) return on
  }
  return null
}

function dueDate(input: SeparationInput, clutch: Clutch, lateOn: PlainDate | null): PlainDate | null {
  if (input.together < 2) return null
  const byStage = dueByStage(input, clutch, 1)
  const beforeLate = lateOn ? addDays(lateOn, -1) : null
  const known = [byStage, beforeLate, hasUrgentSign(input) ? input.today : null].filter(
    (date) => date !== null,
  )
  if (known.length === 0) return null
  const earliest = known.reduce(minDate)
  return maxDate(earliest, input.hatchedOn)
}

/** The last day with fewer than the limit past the risk instar; `speed` > 1 for a faster clutch. */
function dueByStage(input: SeparationInput, clutch: Clutch, speed: number): PlainDate | null {
  const riskMoults = input.profile.separation.apartAtMoults.value
  if (riskMoults === null) return null
  const { pastAnimals, pastShare } = clutch.settings
  const limitShare = Math.max(pastAnimals, pastShare * input.together) / input.together
  const isPast = (offset: number) =>
    sharePast(clutch.stages, riskMoults, speed * ageAtDay(clutch, clutch.hatchDay + offset)) >= limitShare
  if (!isPast(SEARCH_DAYS)) return null
  let low = 0
  let high = SEARCH_DAYS
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (isPast(middle)) high = middle
    else low = middle
  }
  return dateOfDay(clutch.hatchDay + low)
}

function dueBetween(
  input: SeparationInput,
  clutch: Clutch,
  dueOn: PlainDate,
): { earliest: PlainDate; latest: PlainDate } | null {
  const riskMoults = input.profile.separation.apartAtMoults.value
  if (riskMoults === null || input.seen || hasUrgentSign(input)) return null
  const stretch = Math.exp(Z_OF_90 * (clutch.pace?.logSd ?? clutch.stages.sharedLogSd(riskMoults)))
  const earliest = dueByStage(input, clutch, stretch)
  const latest = dueByStage(input, clutch, 1 / stretch)
  return earliest && latest ? { earliest: minDate(earliest, dueOn), latest: maxDate(latest, dueOn) } : null
}

function costOfWaiting(input: SeparationInput, clutch: Clutch): { on: PlainDate; expectedLosses: number }[] {
  const curve: { on: PlainDate; expectedLosses: number }[] = []
  let together = input.together
  for (let offset = 0; offset <= clutch.settings.horizonDays; offset += 1) {
    const on = addDays(input.today, offset)
    curve.push({ on, expectedLosses: input.together - together })
    together -= together * riskOn(input, clutch, { on, together })
  }
  return curve
}

function stateOf(
  today: PlainDate,
  dueOn: PlainDate | null,
  lateOn: PlainDate | null,
): 'fine' | 'due' | 'late' {
  if (lateOn !== null && today >= lateOn) return 'late'
  return dueOn !== null && today >= dueOn ? 'due' : 'fine'
}

function hasUrgentSign(input: SeparationInput): boolean {
  const { hasSizeGap, isHungry, isFoodShort, hasUnexpectedLosses } = input.signs ?? {}
  return Boolean(hasSizeGap || isHungry || isFoodShort || hasUnexpectedLosses)
}
