import { addDays, type PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { HatchForecast } from '../hatch/forecast'
import type { InstarNaming } from '../instar/label'
import type { SeparationForecast } from '../separation/deadline'
import { sayFirstStage, sayWaiting } from '../separation/wording'

/**
 * What a day asks for. `costPerDay` is what waiting until tomorrow is expected to cost in animals: the list begins
 * with what cannot be made good again.
 */
export type DayTask = {
  kind:
    | 'too-hot'
    | 'too-cold'
    | 'no-readings'
    | 'separation'
    | 'hatch'
    | 'doubtful-egg-case'
    | 'leave-alone'
    | 'overdue-moult'
    | 'start-cultures'
    | 'order-prey'
    | 'discard-cultures'
    | 'send-order'
    | 'hand-over-order'
    | 'wait-order'
  state: 'late' | 'due' | 'leave-alone' | 'fine'
  title: string
  scientificName: string | null
  why: string
  subject:
    | { type: 'clutch' | 'egg-case' | 'incident'; id: string; label: string }
    | { type: 'individuals' | 'cultures'; ids: string[] }
    | { type: 'prey-line'; id: string; count: number }
    | { type: 'order'; id: string; version: number; isReady: boolean }
  costPerDay: number
}

type Named = { id: string; label: string; scientificName: string }

/** How far ahead a deadline or a window is named before it opens. */
const AHEAD_DAYS = 2
/** Flies take longer to be ready than cups. */
const HATCH_AHEAD_DAYS = 7

export type IncidentSubject = {
  id: string
  kind: 'too_hot' | 'too_cold' | 'silent'
  /** "Too hot: Warm shelf, up to 34.2 °C" */
  title: string
  zoneName: string
  /** Since when, and until when where it is over, in words. */
  span: string
  takenByName: string | null
  isTaken: boolean
}

const INCIDENT_KINDS = { too_hot: 'too-hot', too_cold: 'too-cold', silent: 'no-readings' } as const

/** A zone that is outside of its limits, or was and nobody has looked: before everything else. */
export function incidentTask(incident: IncidentSubject): DayTask {
  const { id, kind, title, zoneName, span, isTaken, takenByName } = incident
  const who = isTaken ? `${takenByName ?? 'Somebody'} looks after it.` : 'Nobody has looked after it yet.'
  return {
    kind: INCIDENT_KINDS[kind],
    state: kind === 'silent' || isTaken ? 'due' : 'late',
    title,
    scientificName: null,
    why: `${span}. ${who}`,
    subject: { type: 'incident', id, label: zoneName },
    costPerDay: 0,
  }
}

export type SeparationSubject = Named & {
  together: number
  forecast: SeparationForecast | null
  naming: InstarNaming
}

/** A clutch that has to be parted now or in a few days; nothing for the others. */
export function separationTask(clutch: SeparationSubject, today: PlainDate): DayTask[] {
  const { id, label, scientificName, together, forecast, naming } = clutch
  if (!forecast || together < 2) return []
  const isNear = forecast.dueOn !== null && forecast.dueOn <= addDays(today, AHEAD_DAYS)
  if (forecast.state === 'fine' && !isNear) return []
  const stage = sayFirstStage(forecast, { together, naming })
  const group = [`${together} together`, stage].filter(Boolean).join(', ')
  const waiting = sayWaiting(forecast.perDayNow)
  const deadline = forecast.dueOn ? `Due on ${writeDay(forecast.dueOn, today)}.` : ''
  const hanging = forecast.reasons.find(({ code }) => code === 'hanging')?.text ?? ''
  return [
    {
      kind: 'separation',
      state: forecast.state,
      title: `Separate clutch ${label}`,
      scientificName,
      why: [`${group}.`, waiting || deadline, hanging].filter(Boolean).join(' '),
      subject: { type: 'clutch', id, label },
      costPerDay: forecast.perDayNow,
    },
  ]
}

export type HatchSubject = Named & { forecast: HatchForecast | null; freeCups: number }

/** An egg case that may hatch any day, or that has had more than its time. */
export function hatchTask(eggCase: HatchSubject, today: PlainDate): DayTask[] {
  const { id, label, scientificName, forecast } = eggCase
  if (forecast?.status !== 'forecast') return []
  const subject = { type: 'egg-case' as const, id, label }
  const common = { scientificName, subject, costPerDay: 0 }
  if (forecast.reminder.state === 'doubtful') {
    const why = 'More than twice and a half its usual time. Before it goes into the bin: 48 hours at −18 °C.'
    return [
      { ...common, kind: 'doubtful-egg-case', state: 'due', title: `Egg case ${label} is doubtful`, why },
    ]
  }
  const isOpen = forecast.p10 <= today || forecast.reminder.state !== 'expected'
  if (!isOpen && forecast.p10 > addDays(today, HATCH_AHEAD_DAYS)) return []
  const title = isOpen ? `Egg case ${label} may hatch` : `Egg case ${label} will soon be in its window`
  return [
    {
      ...common,
      kind: 'hatch',
      state: isOpen ? 'due' : 'fine',
      title,
      why: sayHatch(eggCase, forecast, today),
    },
  ]
}

function sayHatch(
  { freeCups }: HatchSubject,
  forecast: HatchForecast & { status: 'forecast' },
  today: PlainDate,
): string {
  const { p10, p90, expectedNymphs } = forecast
  const window =
    forecast.reminder.state === 'overdue'
      ? 'overdue'
      : `window ${writeDay(p10, today)} to ${writeDay(p90, today)}`
  const { low, typical, high } = expectedNymphs
  return `${window}, about ${typical} nymphs (${low} to ${high}). ${writeCount(freeCups, 'single cup')} free.`
}

export type MoultingSubject = {
  id: string
  state: 'soft' | 'window' | 'overdue' | 'quiet' | 'adult' | 'unknown'
  softUntil: PlainDate | null
  /** Chance of a moult by tomorrow. */
  chanceTomorrow: number
}

/**
 * Windows are wide, and on any day a third of a room stands in one: a day's sheet names those of whom one in ten
 * moults by tomorrow, and all who are soft.
 */
const LEAST_CHANCE_TOMORROW = 0.1

export function isLeftAlone({ state, chanceTomorrow }: Omit<MoultingSubject, 'id'>): boolean {
  return state === 'soft' || (state === 'window' && chanceTomorrow >= LEAST_CHANCE_TOMORROW)
}

/** Who must not be opened today, as one task, and whose skin may have been missed, as another. */
export function moultTasks(animals: readonly MoultingSubject[], today: PlainDate): DayTask[] {
  const soft = animals.filter(({ state }) => state === 'soft')
  const moulting = animals.filter((animal) => animal.state === 'window' && isLeftAlone(animal))
  const overdue = animals.filter(({ state }) => state === 'overdue')
  return [...leaveAlone(soft, moulting, today), ...missedSkins(overdue)]
}

function leaveAlone(
  soft: readonly MoultingSubject[],
  moulting: readonly MoultingSubject[],
  today: PlainDate,
): DayTask[] {
  const animals = [...soft, ...moulting]
  if (animals.length === 0) return []
  const lastSoft = soft
    .map(({ softUntil }) => softUntil ?? today)
    .sort()
    .at(-1)
  const parts = [
    soft.length > 0 && lastSoft ? `${soft.length} soft, the last until ${writeDay(lastSoft, today)}` : '',
    moulting.length > 0 ? `${moulting.length} may well moult by tomorrow` : '',
  ].filter(Boolean)
  return [
    {
      kind: 'leave-alone',
      state: 'leave-alone',
      title: `Leave ${writeCount(animals.length, 'animal')} alone`,
      scientificName: null,
      why: `${parts.join('; ')}. Do not open a cup whose animal hangs from the lid.`,
      subject: { type: 'individuals', ids: animals.map(({ id }) => id) },
      costPerDay: 0,
    },
  ]
}

function missedSkins(overdue: readonly MoultingSubject[]): DayTask[] {
  if (overdue.length === 0) return []
  return [
    {
      kind: 'overdue-moult',
      state: 'fine',
      title: `Look for a skin: ${writeCount(overdue.length, 'animal')}`,
      scientificName: null,
      why: 'Longer in this instar than nearly all. A moult may have been missed.',
      subject: { type: 'individuals', ids: overdue.map(({ id }) => id) },
      costPerDay: 0,
    },
  ]
}

const STATE_ORDER: Record<DayTask['state'], number> = { late: 0, due: 1, 'leave-alone': 2, fine: 3 }
const KIND_ORDER: Record<DayTask['kind'], number> = {
  'too-hot': -3,
  'too-cold': -2,
  'no-readings': -1,
  separation: 0,
  hatch: 1,
  'send-order': 1.5,
  'hand-over-order': 1.6,
  'leave-alone': 2,
  'doubtful-egg-case': 3,
  'start-cultures': 4,
  'order-prey': 5,
  'discard-cultures': 6,
  'overdue-moult': 7,
  'wait-order': 8,
}

/** Most irreversible first: late before due, and among equals what costs most by tomorrow. */
export function sortTasks(tasks: readonly DayTask[]): DayTask[] {
  return [...tasks].sort(
    (a, b) =>
      STATE_ORDER[a.state] - STATE_ORDER[b.state] ||
      KIND_ORDER[a.kind] - KIND_ORDER[b.kind] ||
      b.costPerDay - a.costPerDay ||
      a.title.localeCompare(b.title, 'en'),
  )
}
