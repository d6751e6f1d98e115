import { scaleLinear } from 'd3-scale'
import { area, curveMonotoneX, line } from 'd3-shape'
import { addDays, daysBetween, type PlainDate } from '@/lib/domain/calendar/date'
import { createDayScale, listWeeks, shortDay, type Tick } from '../ui/picture/day-scale'
import { DayTicks } from '../ui/picture/day-ticks'
import { type Flag, FlagRow, flagRowHeight } from '../ui/picture/flag-row'
import { Picture, type Rendition } from '../ui/picture/picture'
import { measureText } from '../ui/picture/text-width'

export type CostPoint = { on: PlainDate /** Animals lost until then, all in all. */; expectedLosses: number }

type Props = {
  /** By day, at least two of them. */
  points: readonly CostPoint[]
  today: PlainDate
  dueOn: PlainDate | null
  lateOn: PlainDate | null
}

const SIZE_PX = 13
const PLOT_PX = 150
const FOOT_PX = 24

/** What each further day together is expected to cost, with the two days that matter marked. */
export function WaitingCostCurve(props: Props) {
  const { points, dueOn, lateOn } = props
  const last = points.at(-1)
  if (points.length < 2 || !last) return null
  const said = [
    dueOn ? `Due ${shortDay(dueOn)}.` : '',
    lateOn ? `Late from ${shortDay(lateOn)}.` : '',
    `About ${Math.round(last.expectedLosses)} animals lost by ${shortDay(last.on)} if they stay together.`,
  ]
  return (
    <Picture
      title="What waiting costs"
      description={said.filter(Boolean).join(' ')}
      heightOf={(widthPx) => layOut(props, widthPx).height}
      draw={(rendition) => <Curve data={props} rendition={rendition} />}
      table={{
        head: ['Still together on', 'Animals lost until then'],
        rows: points.map((point) => [shortDay(point.on), point.expectedLosses.toFixed(1)]),
      }}
    />
  )
}

function layOut({ points, today, dueOn, lateOn }: Props, widthPx: number) {
  const from = points[0]?.on ?? today
  const until = points.at(-1)?.on ?? today
  const most = Math.max(1, ...points.map((point) => point.expectedLosses))
  const y0 = scaleLinear().domain([0, most]).nice(3)
  const ticks = y0.ticks(3).filter(Number.isInteger)
  const left = 10 + Math.max(...ticks.map((tick) => measureText(String(tick), { sizePx: SIZE_PX })))
  const x = createDayScale({ from, until }, [left, widthPx - 4])
  const flags: Flag[] = [
    { key: 'today', kind: 'today' as const, on: today, text: 'today' },
    { key: 'due', kind: 'due' as const, on: dueOn, text: dueOn ? `due ${shortDay(dueOn)}` : '' },
    { key: 'late', kind: 'late' as const, on: lateOn, text: lateOn ? `late ${shortDay(lateOn)}` : '' },
  ].flatMap(({ on, ...flag }) => (on && on >= from && on <= until ? [{ ...flag, x: x(on) }] : []))
  const top = 20 + flagRowHeight(flags, widthPx)
  const y = y0.range([top + PLOT_PX, top])
  return {
    from,
    until,
    ticks,
    left,
    x,
    y,
    flags,
    top,
    bottom: top + PLOT_PX,
    height: top + PLOT_PX + FOOT_PX,
  }
}

type Layout = ReturnType<typeof layOut>

function Curve({ data, rendition }: { data: Props; rendition: Rendition }) {
  const { widthPx } = rendition
  const layout = layOut(data, widthPx)
  const { x, y, flags, top, bottom } = layout
  const outline = line<CostPoint>(
    (point) => x(point.on),
    (point) => y(point.expectedLosses),
  ).curve(curveMonotoneX)
  const under = area<CostPoint>(
    (point) => x(point.on),
    bottom,
    (point) => y(point.expectedLosses),
  ).curve(curveMonotoneX)
  return (
    <>
      <text x="0" y="12" fontSize={SIZE_PX} className="fill-soft">
        animals lost, all in all
      </text>
      <Ground layout={layout} widthPx={widthPx} />
      <path d={under([...data.points]) ?? ''} className="fill-band" />
      <path d={outline([...data.points]) ?? ''} fill="none" strokeWidth="2.5" className="stroke-ink" />
      <path d={`M${layout.left} ${bottom}H${widthPx}`} strokeWidth="1.5" className="stroke-ink" />
      <g transform="translate(0 20)">
        <FlagRow flags={flags} room={widthPx} plot={{ top: top - 20, bottom: bottom - 20 }} />
      </g>
      <DayTicks ticks={listDayTicks(layout, widthPx)} x={x} at={{ y: bottom + 17, widthPx }} />
    </>
  )
}

function Ground({ layout, widthPx }: { layout: Layout; widthPx: number }) {
  return layout.ticks.map((tick) => (
    <g key={tick}>
      {tick > 0 ? <path d={`M${layout.left} ${layout.y(tick)}H${widthPx}`} className="stroke-line" /> : null}
      <text
        x={layout.left - 6}
        y={layout.y(tick) + 4}
        fontSize={SIZE_PX}
        textAnchor="end"
        className="fill-soft"
      >
        {tick}
      </text>
    </g>
  ))
}

/** As many days as have room: weekly, or the first and the last of a short stretch. */
function listDayTicks({ from, until, x }: Layout, widthPx: number): Tick[] {
  const weeks = listWeeks(from, until)
  const room = 1.5 * measureText('24 Nov', { sizePx: SIZE_PX })
  const isTight = weeks.length > 1 && x(addDays(from, 7)) - x(from) < room
  if (daysBetween(from, until) >= 14 && !isTight)
    return weeks.filter((week) => x(week.on) < widthPx - room / 2)
  return [from, until].map((on) => ({ on, label: shortDay(on) }))
}
