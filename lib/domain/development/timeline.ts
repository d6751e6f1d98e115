import { daysBetween, type PlainDate } from '../calendar/date'
import { bodyLengthMm, type Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import { type InstarNaming, instarShortLabel } from '../instar/label'
import type { MoultForecast } from './forecast'

/**
 * The moult timeline as plain values: one step per instar that was seen, the running one, and the next
 * with its window. Height of a step is the body length; nothing here is drawn.
 */
export type TimelineStep = {
  label: string
  moults: number
  from: PlainDate
  /** Day of the moult that ended it; null while it runs and for the expected one. */
  to: PlainDate | null
  /** Days it took, or so far; null for the expected one. */
  days: number | null
  lengthMm: number
  state: 'certain' | 'running' | 'expected'
}

export type MoultTimeline = {
  steps: TimelineStep[]
  today: PlainDate
  /** Window of the next moult and the leave-alone stretch around it; null for adults. */
  window: { p10: PlainDate; p50: PlainDate; p90: PlainDate } | null
  leaveAlone: { from: PlainDate; until: PlainDate } | null
}

/** A day on which an instar began: the hatch (moults 0), a moult, or the day an animal arrived at a stage. */
export type InstarStart = { moults: number; on: PlainDate }

export type TimelineInput = {
  profile: CareProfile
  sex: Sex
  isAdult?: boolean
  /** In any order; stages that were never seen may be missing. */
  starts: readonly InstarStart[]
  forecast: MoultForecast
  naming: InstarNaming
  today: PlainDate
}

export function moultTimeline(input: TimelineInput): MoultTimeline {
  const starts = [...input.starts].sort((a, b) => a.moults - b.moults)
  const steps = starts.map((start, index) => seenStep(input, { start, next: starts[index + 1] ?? null }))
  const forecast = input.forecast.status === 'forecast' ? input.forecast : null
  const last = starts.at(-1)
  if (!forecast || !last) return { steps, today: input.today, window: null, leaveAlone: null }
  const { p10, p50, p90, leaveAlone, chanceFinal } = forecast
  const isAdult = chanceFinal > 0.5
  const expected: TimelineStep = {
    label: isAdult ? 'adult' : instarShortLabel(last.moults + 1, input.naming),
    moults: last.moults + 1,
    from: p50,
    to: null,
    days: null,
    lengthMm: bodyLengthMm(input.profile, { sex: input.sex, moults: last.moults + 1, isAdult }),
    state: 'expected',
  }
  return { steps: [...steps, expected], today: input.today, window: { p10, p50, p90 }, leaveAlone }
}

function seenStep(
  input: TimelineInput,
  found: { start: InstarStart; next: InstarStart | null },
): TimelineStep {
  const { start, next } = found
  const isAdult = input.isAdult === true && next === null
  return {
    label: isAdult ? 'adult' : instarShortLabel(start.moults, input.naming),
    moults: start.moults,
    from: start.on,
    to: next?.on ?? null,
    days: Math.max(0, daysBetween(start.on, next?.on ?? input.today)),
    lengthMm: bodyLengthMm(input.profile, { sex: input.sex, moults: start.moults, isAdult }),
    state: next ? 'certain' : 'running',
  }
}
