import { scaleLinear } from 'd3-scale'
import { addDays, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import type { MoultTimeline, TimelineStep } from '@/lib/domain/development/timeline'
import { createDayScale, listMonths, shortDay, shortRange } from '../ui/picture/day-scale'
import { measureText } from '../ui/picture/text-width'

export const SIZE_PX = 13
const STEPS_PX = 130
const ROW_PX = 17

export type StepBox = { step: TimelineStep; left: number; width: number; height: number }
export type StepWords = { key: string; left: number; first: string; second: string }

export type TimelineLayout = {
  boxes: StepBox[]
  band: { left: number; width: number; height: number; likely: number } | null
  hush: { left: number; width: number; label: number; row: number } | null
  /** Lines of the words about the window, each with its left edge. */
  head: { left: number; text: string }[]
  today: { x: number; label: number }
  words: StepWords[]
  months: { x: number; label: string; left: number }[]
  top: number
  base: number
  height: number
}

/** Everything in px, so that the drawing only draws. `room` is the width. */
export function layOutTimeline(timeline: MoultTimeline, room: number): TimelineLayout {
  const { today, window, leaveAlone } = timeline
  const lived = timeline.steps.filter((step) => step.state !== 'expected')
  const from = lived[0]?.from ?? today
  const until = addDays([today, window?.p90, leaveAlone?.until].filter(isDay).reduce(maxDate), 3)
  const x = createDayScale({ from, until }, [0, room])
  const tallest = Math.max(1, ...timeline.steps.map((step) => step.lengthMm))
  const tall = scaleLinear().domain([0, tallest]).range([0, STEPS_PX])
  const head = window ? placeHead(timeline, { at: x(window.p10), room }) : []
  const top = (head.length + 1) * ROW_PX + 10
  const base = top + STEPS_PX
  const boxes = lived.map((step) => {
    const left = x(step.from)
    const right = x(step.to ?? today)
    return { step, left, width: Math.max(2, right - left - (step.to ? 2 : 0)), height: tall(step.lengthMm) }
  })
  const words = dropOverlaps(boxes.flatMap((box) => wordsFor(box, room)))
  const hush = leaveAlone
    ? placeHush({ left: x(leaveAlone.from), right: x(leaveAlone.until) }, { words, room })
    : null
  const monthRow = hush?.row === 2 ? 3 : 2
  return {
    boxes,
    band: window
      ? {
          left: x(window.p10),
          width: Math.max(3, x(addDays(window.p90, 1)) - x(window.p10)),
          height: tall(timeline.steps.find((step) => step.state === 'expected')?.lengthMm ?? tallest),
          likely: x(window.p50),
        }
      : null,
    hush,
    head,
    today: { x: x(today), label: placeBefore(x(today), 'today', room) },
    words,
    months: placeMonths({ from, until }, x, room),
    top,
    base,
    height: base + 40 + monthRow * ROW_PX,
  }
}

function isDay(on: PlainDate | undefined): on is PlainDate {
  return on !== undefined
}

function widthOf(text: string, isBold = false): number {
  return measureText(text, { sizePx: SIZE_PX, isBold })
}

function clampLeft(at: number, width: number, room: number): number {
  return Math.max(0, Math.min(at, room - width))
}

function placeBefore(at: number, text: string, room: number): number {
  const before = at - 6 - widthOf(text, true)
  return before >= 0 ? before : clampLeft(at + 6, widthOf(text, true), room)
}

/** The words about the window in one line, or in two where they would not fit. */
function placeHead({ steps, window }: MoultTimeline, place: { at: number; room: number }) {
  if (!window) return []
  const next = steps.find((step) => step.state === 'expected')?.label ?? 'next moult'
  const range = `${next} expected ${shortRange(window.p10, window.p90)}`
  const likely = `most likely ${shortDay(window.p50)}`
  const whole = `${range}, ${likely}`
  const lines = widthOf(whole, true) <= place.room ? [whole] : [range, likely]
  const widest = Math.max(...lines.map((text) => widthOf(text, true)))
  return lines.map((text) => ({ text, left: clampLeft(place.at, widest, place.room) }))
}

/** Label and days of a step, where they fit under it. The running one may reach beyond its own width. */
function wordsFor({ step, left, width }: StepBox, room: number): StepWords[] {
  const isRunning = step.state === 'running'
  const first = isRunning ? `${step.label}${step.label === 'adult' ? '' : ' instar'}` : step.label
  const second = step.days === null ? '' : isRunning ? `${step.days} d so far` : `${step.days} d`
  const needed = Math.max(widthOf(first), widthOf(second))
  if (isRunning) return [{ key: step.from, left: clampLeft(left + 2, needed, room), first, second }]
  if (needed <= width - 2) return [{ key: step.from, left: left + 2, first, second }]
  if (widthOf(first) <= width) return [{ key: step.from, left: left + 1, first, second: '' }]
  return []
}

/** In the first row under the line, unless the running instar's words stand there already. */
function placeHush(span: { left: number; right: number }, around: { words: StepWords[]; room: number }) {
  const width = widthOf('leave alone', true)
  const label = clampLeft(span.left, width, around.room)
  const last = around.words.at(-1)
  const taken = last ? last.left + Math.max(widthOf(last.first), widthOf(last.second)) + 8 : 0
  return { left: span.left, width: Math.max(4, span.right - span.left), label, row: label >= taken ? 0 : 2 }
}

function placeMonths(
  days: { from: PlainDate; until: PlainDate },
  x: (on: PlainDate) => number,
  room: number,
) {
  let free = 0
  return listMonths(days.from, days.until).flatMap((month) => {
    const left = x(month.on) + 4
    if (left < free || left + widthOf(month.label) > room) return []
    free = left + widthOf(month.label) + 10
    return [{ x: x(month.on), label: month.label, left }]
  })
}

/** Words that lie over each other drop out, the running instar's last: see `wordsFor`. */
function dropOverlaps(words: readonly StepWords[]): StepWords[] {
  const kept: StepWords[] = []
  let limit = Number.POSITIVE_INFINITY
  for (const word of [...words].reverse()) {
    const right = word.left + Math.max(widthOf(word.first), widthOf(word.second))
    if (right + 4 > limit) continue
    kept.unshift(word)
    limit = word.left
  }
  return kept
}
