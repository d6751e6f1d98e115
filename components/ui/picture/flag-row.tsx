import { spreadLabels } from './spread-labels'
import { measureText } from './text-width'

/** A day that matters: its words stand above the plot, joined to its line by a short leader. */
export type Flag = {
  key: string
  x: number
  text: string
  kind: 'today' | 'due' | 'late'
}

const SIZE_PX = 13
const MARK_PX = 14
const ROW_PX = 18
/** From the words down to where the plot begins. */
const LEADER_PX = 10

function widthOf(flag: Flag): number {
  const mark = flag.kind === 'today' ? 0 : MARK_PX
  return mark + measureText(flag.text, { sizePx: SIZE_PX, isBold: true })
}

type Placed = Flag & { left: number; row: number }

/** One row where they fit, otherwise a row for each. */
function placeFlags(flags: readonly Flag[], room: number): Placed[] {
  const sorted = [...flags].sort((a, b) => a.x - b.x)
  const lefts = spreadLabels(
    sorted.map((flag) => ({ at: flag.x - widthOf(flag) / 2, width: widthOf(flag) })),
    room,
  )
  return sorted.map((flag, position) => ({
    ...flag,
    left: lefts?.[position] ?? Math.max(0, Math.min(flag.x - widthOf(flag) / 2, room - widthOf(flag))),
    row: lefts ? 0 : position,
  }))
}

export function flagRowHeight(flags: readonly Flag[], room: number): number {
  const rows = Math.max(0, ...placeFlags(flags, room).map((flag) => flag.row + 1))
  return rows === 0 ? 0 : rows * ROW_PX + LEADER_PX
}

const INK = { today: 'ink', due: 'hand', late: 'hand' } as const
const FILL = { ink: 'fill-ink', hand: 'fill-hand' }
const STROKE = { ink: 'stroke-ink', hand: 'stroke-hand' }

type Props = { flags: readonly Flag[]; room: number; plot: { top: number; bottom: number } }

/** Due is dotted with an open triangle, late is solid with a filled square, today is a plain thin line. */
export function FlagRow({ flags, room, plot }: Props) {
  return placeFlags(flags, room).map((flag) => {
    const ink = INK[flag.kind]
    const mark = flag.kind === 'today' ? 0 : MARK_PX
    const base = flag.row * ROW_PX + 13
    const middle = Math.max(flag.left + 2, Math.min(flag.x, flag.left + widthOf(flag) - 2))
    return (
      <g key={flag.key}>
        <path
          d={`M${middle} ${base + 4}L${flag.x} ${plot.top}V${plot.bottom}`}
          className={STROKE[ink]}
          fill="none"
          strokeWidth={flag.kind === 'today' ? 1.5 : 2}
          strokeDasharray={flag.kind === 'due' ? '2 4' : undefined}
        />
        {flag.kind === 'late' ? <path d={`M${flag.left} ${base - 9}h9v9h-9z`} className="fill-hand" /> : null}
        {flag.kind === 'due' ? (
          <path
            d={`M${flag.left + 5} ${base - 9}l4.5 9h-9z`}
            className="fill-sheet stroke-hand"
            strokeWidth="1.5"
          />
        ) : null}
        <text x={flag.left + mark} y={base} fontSize={SIZE_PX} fontWeight="600" className={FILL[ink]}>
          {flag.text}
        </text>
      </g>
    )
  })
}
