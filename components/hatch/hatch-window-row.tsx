import { addDays, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { type DayScale, shortRange } from '../ui/picture/day-scale'
import { measureText } from '../ui/picture/text-width'
import { StateShape } from '../ui/state-mark'
import type { HatchWindow } from './hatch-window-axis'

const SIZE_PX = 13
const BAR_PX = 14

type Axis = { x: DayScale; from: PlainDate; today: PlainDate; left: number; right: number }
type Place = { top: number; height: number; isBeside: boolean; hatching: string }

export function HatchRow({ hatch, axis, place }: { hatch: HatchWindow; axis: Axis; place: Place }) {
  const barTop = place.isBeside ? place.top + (place.height - BAR_PX) / 2 : place.top + 28
  return (
    <g>
      <path d={`M0 ${place.top}H${axis.right}`} className="stroke-line" />
      <Name hatch={hatch} place={place} right={axis.right} />
      <Rest hatch={hatch} axis={axis} top={barTop} />
      <Running hatch={hatch} axis={axis} bar={{ top: barTop, hatching: place.hatching }} />
      <Band hatch={hatch} axis={axis} top={barTop} />
      <Overdue hatch={hatch} axis={axis} top={barTop} />
      {place.isBeside ? <Dates hatch={hatch} axis={axis} top={barTop} /> : null}
    </g>
  )
}

/** "Pseudocreobotra wahlbergii" → "P. wahlbergii" where the whole does not fit. */
function fitName(name: string, room: number): string {
  if (measureText(name, { sizePx: SIZE_PX }) <= room) return name
  const [genus = '', ...rest] = name.split(' ')
  return [`${genus.slice(0, 1)}.`, ...rest].join(' ')
}

function Name({ hatch, place, right }: { hatch: HatchWindow; place: Place; right: number }) {
  const dates = place.isBeside ? '' : shortRange(hatch.window.p10, hatch.window.p90)
  const codeWidth = measureText(hatch.code, { sizePx: SIZE_PX, isBold: true })
  const datesWidth = dates ? measureText(dates, { sizePx: SIZE_PX }) + 10 : 0
  const nameLeft = 22 + codeWidth + 6
  const room = (place.isBeside ? 200 : right - datesWidth) - nameLeft
  const base = place.top + (place.isBeside ? place.height / 2 + 4.5 : 19)
  return (
    <g fontSize={SIZE_PX}>
      <StateShape state={hatch.state} box={{ left: 0, top: base - 12, size: 15 }} />
      <text x="22" y={base} fontWeight="700" className="fill-ink">
        {hatch.code}
      </text>
      <text x={nameLeft} y={base} className="latin fill-soft">
        {fitName(hatch.scientificName, room)}
      </text>
      {dates ? (
        <text x={right} y={base} textAnchor="end" className="fill-soft">
          {dates}
        </text>
      ) : null}
    </g>
  )
}

/** Cold rest: an outline, nothing runs in it. */
function Rest({ hatch, axis, top }: { hatch: HatchWindow; axis: Axis; top: number }) {
  const rest = hatch.coldRest
  if (!rest || rest.until <= axis.from) return null
  const left = axis.x(rest.from)
  const width = axis.x(rest.until) - left
  if (width < 2) return null
  const isSaid = width > measureText('cold rest', { sizePx: 11 }) + 8
  return (
    <g>
      <rect
        x={left + 0.5}
        y={top + 0.5}
        width={width - 1}
        height={BAR_PX - 1}
        strokeDasharray={rest.isPlanned ? '3 3' : undefined}
        className="fill-sheet stroke-edge"
      />
      {isSaid ? (
        <text x={left + 5} y={top + 11} fontSize="11" className="fill-soft">
          cold rest
        </text>
      ) : null}
    </g>
  )
}

function Running({
  hatch,
  axis,
  bar,
}: {
  hatch: HatchWindow
  axis: Axis
  bar: { top: number; hatching: string }
}) {
  const until = minDate(axis.today, hatch.window.p10)
  if (hatch.warmSince === null || until <= axis.from || hatch.warmSince >= until) return null
  const left = axis.x(hatch.warmSince)
  return (
    <rect
      x={left}
      y={bar.top + 3}
      width={Math.max(1, axis.x(until) - left)}
      height={BAR_PX - 6}
      fill={bar.hatching}
      className="stroke-ink"
    />
  )
}

function Band({ hatch, axis, top }: { hatch: HatchWindow; axis: Axis; top: number }) {
  const { p10, p50, p90 } = hatch.window
  const left = axis.x(p10)
  return (
    <g>
      <rect
        x={left}
        y={top}
        width={Math.max(3, axis.x(addDays(p90, 1)) - left)}
        height={BAR_PX}
        className="fill-band"
      />
      <path d={`M${axis.x(p50)} ${top - 3}v${BAR_PX + 6}`} strokeWidth="2.5" className="stroke-likely" />
    </g>
  )
}

/** From here on it is overdue: the sign of what is due, where the axis reaches so far. */
function Overdue({ hatch, axis, top }: { hatch: HatchWindow; axis: Axis; top: number }) {
  const x = overdueAt(hatch, axis)
  if (x === null) return null
  return (
    <path d={`M${x} ${top + 1}l5 ${BAR_PX - 3}h-10z`} className="fill-sheet stroke-hand" strokeWidth="1.5" />
  )
}

/** Half the sign of what is overdue, and a little air. */
const SIGN_PX = 9

/** Where the sign of what is overdue stands; null where it is not drawn. */
function overdueAt({ overdueOn }: HatchWindow, axis: Axis): number | null {
  if (!overdueOn || overdueOn <= axis.from || axis.x(overdueOn) > axis.right - 6) return null
  return axis.x(overdueOn)
}

/**
 * Behind the band, else before it, and never across the line of today or the sign of what is overdue. A band with no room on either side is
 * read off the weeks.
 */
function placeDates(hatch: HatchWindow, axis: Axis, width: number): number | null {
  const { window, warmSince, coldRest } = hatch
  const today = axis.x(axis.today)
  const sign = overdueAt(hatch, axis)
  const isFree = (left: number) =>
    (left + width < today - 3 || left > today + 3) &&
    (sign === null || left + width < sign - SIGN_PX || left > sign + SIGN_PX - 3)
  const behind = axis.x(addDays(window.p90, 1)) + 7
  for (const left of [behind, today + 6, (sign ?? 0) + SIGN_PX]) {
    if (left >= behind && isFree(left) && left + width <= axis.right) return left
  }
  const isRunning = warmSince !== null && warmSince < minDate(axis.today, window.p10)
  const busy = Math.max(
    axis.left,
    isRunning ? axis.x(minDate(axis.today, window.p10)) : 0,
    coldRest ? axis.x(coldRest.until) : 0,
  )
  const before = axis.x(window.p10) - 7 - width
  return before > busy + 4 && isFree(before) ? before : null
}

function Dates({ hatch, axis, top }: { hatch: HatchWindow; axis: Axis; top: number }) {
  const text = shortRange(hatch.window.p10, hatch.window.p90)
  const left = placeDates(hatch, axis, measureText(text, { sizePx: SIZE_PX }))
  if (left === null) return null
  return (
    <text x={left} y={top + 11.5} fontSize={SIZE_PX} className="fill-ink">
      {text}
    </text>
  )
}
