import { scaleLinear } from 'd3-scale'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { RoomWeek } from '@/lib/domain/room-forecast/weeks'
import { writeSpread } from '@/lib/domain/room-forecast/wording'
import {
  createDayScale,
  type DayScale,
  listMonths,
  listWeeks,
  shortDay,
  type Tick,
} from '../ui/picture/day-scale'
import { DayTicks } from '../ui/picture/day-ticks'
import { Hatching } from '../ui/picture/hatching'
import { Picture, type Rendition } from '../ui/picture/picture'
import { measureText } from '../ui/picture/text-width'
import { RoomLegend } from './room-legend'

type Props = { weeks: readonly RoomWeek[]; title: string }

const SIZE_PX = 13
const PLOT_PX = 210
const FOOT_PX = 24
/** Share of its week that a bar takes; the band of its spread takes all of it. */
const BAR_SHARE = 0.6

/** Who will be in the room week by week: bars from the grown down to those still to hatch, before the band of the spread. */
export function RoomPicture({ weeks, title }: Props) {
  if (weeks.length === 0) return null
  return (
    <Picture
      title={title}
      description={describe(weeks)}
      heightOf={(widthPx) => topOf(widthPx) + PLOT_PX + FOOT_PX}
      draw={(rendition) => <Weeks weeks={weeks} rendition={rendition} />}
      table={{
        head: [
          'Week from',
          'All',
          'Old enough to sell',
          'Adults',
          'Nymphs of sale age',
          'Younger',
          'To hatch',
        ],
        rows: weeks.map((week) => [
          shortDay(week.week),
          writeSpread(week.living),
          writeSpread(week.ofSaleAge),
          ...[week.adults, week.grownNymphs, week.young, week.toHatch].map((count) =>
            String(Math.round(count)),
          ),
        ]),
      }}
    />
  )
}

function describe(weeks: readonly RoomWeek[]): string {
  const [first, last] = [weeks[0], weeks.at(-1)]
  if (!first || !last) return ''
  const most = weeks.reduce((one, other) => (other.living.expected > one.living.expected ? other : one))
  const said = [first, most, last].map(
    (week) => `Week of ${shortDay(week.week)}: ${writeSpread(week.living)}.`,
  )
  return [...new Set(said)].join(' ')
}

/** The legend needs one row, two where it is narrow, four on a phone. */
function topOf(widthPx: number): number {
  return widthPx < 400 ? 106 : widthPx < 800 ? 56 : 34
}

function layOut(weeks: readonly RoomWeek[], widthPx: number) {
  const most = Math.max(1, ...weeks.map(({ living }) => Math.max(living.high, living.expected)))
  const scale = scaleLinear().domain([0, most]).nice(4)
  const ticks = scale.ticks(4).filter(Number.isInteger)
  const left = 10 + Math.max(...ticks.map((tick) => measureText(String(tick), { sizePx: SIZE_PX })))
  const from = weeks[0]?.week ?? ''
  const until = addDays(weeks.at(-1)?.until ?? from, 1)
  const x = createDayScale({ from, until }, [left, widthPx])
  const top = topOf(widthPx)
  return { from, until, x, y: scale.range([top + PLOT_PX, top]), ticks, left, bottom: top + PLOT_PX }
}

type Layout = ReturnType<typeof layOut>

function Weeks({ weeks, rendition }: { weeks: readonly RoomWeek[]; rendition: Rendition }) {
  const { widthPx, id } = rendition
  const layout = layOut(weeks, widthPx)
  const { x, y, ticks, left, bottom } = layout
  const hatching = `${id}-hatching`
  return (
    <>
      <defs>
        <Hatching id={hatching} />
      </defs>
      <RoomLegend widthPx={widthPx} hatching={`url(#${hatching})`} />
      {ticks.map((tick) => (
        <g key={tick}>
          {tick > 0 ? <path d={`M${left} ${y(tick)}H${widthPx}`} className="stroke-line" /> : null}
          <text x={left - 6} y={y(tick) + 4} fontSize={SIZE_PX} textAnchor="end" className="fill-soft">
            {tick}
          </text>
        </g>
      ))}
      {weeks.map((week) => (
        <WeekBar key={week.week} week={week} layout={layout} hatching={`url(#${hatching})`} />
      ))}
      <path d={`M${left} ${bottom}H${widthPx}`} strokeWidth="1.5" className="stroke-ink" />
      <DayTicks ticks={listTicks(layout)} x={x} at={{ y: bottom + 17, widthPx }} />
    </>
  )
}

/** Certain first: what stands here already is solid, what has to hatch is hatched, the spread is the band behind. */
function WeekBar({ week, layout, hatching }: { week: RoomWeek; layout: Layout; hatching: string }) {
  const { x, y } = layout
  const left = x(week.week)
  const width = x(addDays(week.week, 7)) - left
  const bar = { left: left + (width * (1 - BAR_SHARE)) / 2, width: width * BAR_SHARE }
  const { low, high, expected } = week.living
  const parts = [
    { count: week.adults, className: 'fill-ink' },
    { count: week.grownNymphs, className: 'fill-soft' },
    { count: week.young, className: 'fill-edge' },
    { count: week.toHatch, className: 'stroke-ink', fill: hatching },
  ]
  let base = 0
  return (
    <g>
      <rect
        x={left + 1}
        y={y(high)}
        width={Math.max(1, width - 2)}
        height={Math.max(0, y(low) - y(high))}
        className="fill-band"
      />
      {parts.map(({ count, className, fill }) => {
        const from = base
        base += count
        if (count < 0.05) return null
        return (
          <rect
            key={className}
            x={bar.left}
            y={y(base)}
            width={bar.width}
            height={Math.max(0.5, y(from) - y(base))}
            className={className}
            fill={fill}
            strokeWidth={fill ? 1 : undefined}
          />
        )
      })}
      <path
        d={`M${left + 1} ${y(expected)}h${Math.max(1, width - 2)}`}
        strokeWidth="2"
        className="stroke-likely"
      />
    </g>
  )
}

function listTicks({ from, until, x }: Layout): Tick[] {
  const room = 1.4 * measureText('24 Nov', { sizePx: SIZE_PX })
  for (const every of [1, 2, 4]) {
    if (widthOf(x, from, 7 * every) < room) continue
    return listWeeks(from, addDays(until, -1)).filter((_, week) => week % every === 0)
  }
  return listMonths(from, until).filter((_, month) => month % 2 === 0)
}

function widthOf(x: DayScale, from: PlainDate, days: number): number {
  return x(addDays(from, days)) - x(from)
}
