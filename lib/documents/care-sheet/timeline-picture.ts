import { daysBetween, maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { messagesIn } from '@/lib/messages/catalogue'
import { stageShortText, stageText } from '../wording/animal'
import { briefDateRangeText } from '../wording/dates'
import type { Wording } from '../wording/units'
import { type ShownWindow, shownWindow } from './moult-window'
import type { CareSheetPayload, SheetStep } from './payload'

/** All positions are shares 0–1 of the picture's width, heights shares of the tallest step. */
export type TimelinePicture = {
  alt: string
  steps: {
    from: number
    to: number
    height: number
    isRunning: boolean
    labels: string[]
    days: string
    spoken: string
  }[]
  today: { at: number; label: string }
  expected: { from: number; to: number; likely: number | null; height: number; label: string } | null
  leaveAlone: { from: number; to: number; label: string } | null
}

type Scale = (date: PlainDate) => number

/**
 * Each instar a step as wide as it lasted and as high as the animal was long; the next moult a band with its
 * most likely day marked but not written out, since a sheet never names the day.
 */
export function timelinePicture(payload: CareSheetPayload, wording: Wording): TimelinePicture | null {
  const steps = payload.timeline?.steps ?? []
  const first = steps[0]
  if (!first) return null
  const scale = scaleFor(first.from, payload)
  const tallestMm = Math.max(...steps.map((step) => step.lengthMm), payload.moult?.nextLengthMm ?? 0)
  const drawn = steps.map((step) => drawnStep(step, { payload, scale, tallestMm }))
  const say = messagesIn(payload.language, 'careSheet')
  const expected = expectedBand(payload, { scale, tallestMm, wording })
  const past = drawn
    .map((step) => say('timelineStep', { stage: step.labels[0] ?? '', days: step.spoken }))
    .join(' ')
  return {
    alt: say('timelineAlt', { past, window: expected ? `${expected.label}.` : '' }).trim(),
    steps: drawn,
    today: { at: scale(payload.printedOn), label: say('today') },
    expected,
    leaveAlone: leaveAloneBar(payload, scale),
  }
}

/** From the first step to a little after the last thing shown. */
function scaleFor(from: PlainDate, payload: CareSheetPayload): Scale {
  const window = openWindow(payload)
  const until = [window?.toOn, window && payload.moult?.leaveAloneUntilOn].reduce<PlainDate>(
    (latest, on) => (on ? maxDate(latest, on) : latest),
    payload.printedOn,
  )
  const widthDays = Math.max(1, daysBetween(from, until)) * 1.06
  return (date) => Math.min(1, Math.max(0, daysBetween(from, date) / widthDays))
}

type StepContext = { payload: CareSheetPayload; scale: Scale; tallestMm: number }

function drawnStep(
  step: SheetStep,
  { payload, scale, tallestMm }: StepContext,
): TimelinePicture['steps'][number] {
  const { language, animal, printedOn } = payload
  const naming = animal.stage?.naming ?? { convention: 'hatchling-is-first', style: 'ordinal' }
  const say = messagesIn(language, 'careSheet')
  const stage = { moults: step.moults, isAdult: step.isAdult, naming }
  const to = minDate(step.to ?? printedOn, printedOn)
  const n = Math.max(0, daysBetween(step.from, to))
  return {
    from: scale(step.from),
    to: scale(to),
    height: step.lengthMm / tallestMm,
    isRunning: step.to === null,
    labels: [stageText(stage, language), stageShortText(stage, language)],
    days: say(step.to === null ? 'daysSoFar' : 'daysShort', { n }),
    spoken: say('days', { n }),
  }
}

/** A window that is already over is told in words; a band in the past would look like a fact. */
function openWindow(payload: CareSheetPayload): ShownWindow | null {
  const window = shownWindow(payload)
  return window && !window.isPassed ? window : null
}

type BandContext = { scale: Scale; tallestMm: number; wording: Wording }

function expectedBand(payload: CareSheetPayload, context: BandContext): TimelinePicture['expected'] {
  const window = openWindow(payload)
  if (!window) return null
  const { scale, tallestMm, wording } = context
  const { likelyOn, nextLengthMm } = payload.moult ?? {}
  const say = messagesIn(payload.language, 'careSheet')
  return {
    from: scale(window.fromOn),
    to: scale(window.toOn),
    likely: likelyOn && likelyOn >= window.fromOn && likelyOn <= window.toOn ? scale(likelyOn) : null,
    height: (nextLengthMm ?? tallestMm) / tallestMm,
    label: say('expected', { window: briefDateRangeText(window.fromOn, window.toOn, wording) }),
  }
}

function leaveAloneBar(payload: CareSheetPayload, scale: Scale): TimelinePicture['leaveAlone'] {
  const window = openWindow(payload)
  const until = payload.moult?.leaveAloneUntilOn
  if (!window || !until) return null
  const label = messagesIn(payload.language, 'careSheet')('leaveAlone')
  return { from: scale(window.fromOn), to: scale(until), label }
}
