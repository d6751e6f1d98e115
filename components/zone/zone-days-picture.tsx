import { addDays, daysBetween, type PlainDate } from '@/lib/domain/calendar/date'
import type { DayExtent } from '@/lib/domain/zone/climate-summary'
import type { ZoneSetPoint } from '@/lib/domain/zone/history'
import {
  type TemperatureUnit,
  temperatureFigure,
  UNIT_SIGN,
  writeTemperature,
} from '@/lib/domain/zone/temperature-unit'
import { listMonths, listWeeks, shortDay, type Tick } from '../ui/picture/day-scale'
import { DayTicks } from '../ui/picture/day-ticks'
import { Hatching } from '../ui/picture/hatching'
import { Picture, type Rendition } from '../ui/picture/picture'
import { measureText } from '../ui/picture/text-width'
import { TodayLabel } from '../ui/picture/today-label'
import { layOutDays, SIZE_PX, type ZoneDaysLayout } from './zone-days-layout'

export type Limits = { lowC: number | null; highC: number | null }

export type ZoneDays = {
  /** Days on which somebody read, oldest first. */
  days: readonly DayExtent[]
  setPoints: readonly ZoneSetPoint[]
  from: PlainDate
  today: PlainDate
  unit: TemperatureUnit
  /** Where it is watched. */
  limits?: Limits | null
}

/** A bar a day from its coldest to its warmest reading; days without one stay empty. */
export function ZoneDaysPicture(props: ZoneDays) {
  return (
    <Picture
      title="Temperature, day by day"
      description={describe(props)}
      heightOf={(widthPx) => layOutDays(props, widthPx).height}
      draw={(rendition) => <Drawing data={props} rendition={rendition} />}
      table={{
        head: ['Day', 'Lowest', 'Mean', 'Highest'],
        rows: tableRows(props),
      }}
    />
  )
}

function describe({ days, from, today, unit }: ZoneDays): string {
  const last = days.at(-1)
  if (!last) return `No readings between ${shortDay(from)} and ${shortDay(today)}.`
  const range = `${writeTemperature(last.minC, unit)} to ${writeTemperature(last.maxC, unit)}`
  return `${days.length} of ${daysBetween(from, today) + 1} days have readings. The last one, ${shortDay(last.on)}, was between ${range}.`
}

/** At most about thirty rows: of a long stretch every so many days. */
function tableRows({ days, unit }: ZoneDays): string[][] {
  const every = Math.ceil(days.length / 31)
  return days
    .filter((_, index) => (days.length - 1 - index) % every === 0)
    .map(({ on, minC, meanC, maxC }) => [
      shortDay(on),
      ...[minC, meanC, maxC].map((temperatureC) => writeTemperature(temperatureC, unit)),
    ])
}

function Drawing({ data, rendition }: { data: ZoneDays; rendition: Rendition }) {
  const { widthPx, id } = rendition
  const layout = layOutDays(data, widthPx)
  const hatching = `${id}-hatching`
  return (
    <>
      <defs>
        <Hatching id={hatching} />
      </defs>
      <Ground layout={layout} widthPx={widthPx} unit={data.unit} />
      {data.days.map((day) => (
        <DayBar
          key={day.on}
          day={day}
          layout={layout}
          fill={day.on === data.today ? `url(#${hatching})` : undefined}
        />
      ))}
      <path d={layout.setPath.day} fill="none" strokeWidth="2" className="stroke-likely" />
      <path
        d={layout.setPath.night}
        fill="none"
        strokeWidth="1.5"
        strokeDasharray="2 3"
        className="stroke-likely"
      />
      <LimitLines data={data} layout={layout} widthPx={widthPx} />
      <Today layout={layout} widthPx={widthPx} at={layout.x(data.today) + layout.dayPx / 2} />
      <DayTicks ticks={listTicks(data, layout)} x={layout.x} at={{ y: layout.bottom + 17, widthPx }} />
    </>
  )
}

function DayBar({ day, layout, fill }: { day: DayExtent; layout: ZoneDaysLayout; fill?: string }) {
  const { x, y, dayPx } = layout
  const width = Math.max(1.2, dayPx * 0.72)
  const left = x(day.on) + (dayPx - width) / 2
  const height = Math.max(2, y(day.minC) - y(day.maxC))
  return (
    <g>
      <rect
        x={left}
        y={y(day.maxC)}
        width={width}
        height={height}
        fill={fill}
        className={fill ? 'stroke-ink' : 'fill-edge'}
        strokeWidth={fill ? 1 : 0}
      />
      {dayPx >= 4 ? (
        <path d={`M${left} ${y(day.meanC)}h${width}`} strokeWidth="2" className="stroke-ink" />
      ) : null}
    </g>
  )
}

function Ground({
  layout,
  widthPx,
  unit,
}: {
  layout: ZoneDaysLayout
  widthPx: number
  unit: TemperatureUnit
}) {
  return (
    <>
      <text x="0" y="12" fontSize={SIZE_PX} className="fill-soft">
        {UNIT_SIGN[unit]}
      </text>
      {layout.ticks.map(({ figure, at }) => (
        <g key={figure}>
          <path d={`M${layout.left} ${at}H${widthPx}`} className="stroke-line" />
          <text x={layout.left - 6} y={at + 4} fontSize={SIZE_PX} textAnchor="end" className="fill-soft">
            {String(figure).replace('-', '−')}
          </text>
        </g>
      ))}
      <path d={`M${layout.left} ${layout.bottom}H${widthPx}`} strokeWidth="1.5" className="stroke-ink" />
    </>
  )
}

function LimitLines({ data, layout, widthPx }: { data: ZoneDays; layout: ZoneDaysLayout; widthPx: number }) {
  const { limits, unit } = data
  const lines = [
    { key: 'high', limitC: limits?.highC, word: 'too hot above', below: false },
    { key: 'low', limitC: limits?.lowC, word: 'too cold below', below: true },
  ]
  return lines.map(({ key, limitC, word, below }) => {
    if (limitC === null || limitC === undefined) return null
    const at = layout.y(limitC)
    return (
      <g key={key}>
        <path
          d={`M${layout.left} ${at}H${widthPx}`}
          strokeWidth="1.5"
          strokeDasharray="6 3"
          className="stroke-hand"
        />
        <text
          x={layout.left + 4}
          y={below ? at + 14 : at - 5}
          fontSize={SIZE_PX}
          className="fill-hand"
          fontWeight="600"
        >
          {`${word} ${temperatureFigure(limitC, unit)}`}
        </text>
      </g>
    )
  })
}

function Today({ layout, widthPx, at }: { layout: ZoneDaysLayout; widthPx: number; at: number }) {
  return (
    <>
      <path d={`M${at} 16V${layout.bottom}`} strokeWidth="1" className="stroke-ink" strokeDasharray="1 3" />
      <TodayLabel at={at} y={12} sizePx={SIZE_PX} inside={{ left: 0, right: widthPx }} />
    </>
  )
}

function listTicks({ from, today }: ZoneDays, { x }: ZoneDaysLayout): Tick[] {
  const room = 1.6 * measureText('24 Nov', { sizePx: SIZE_PX })
  const weeks = listWeeks(from, today)
  if (x(addDays(from, 7)) - x(from) >= room) return weeks
  const months = listMonths(from, today)
  const isTight = months.length > 1 && x(months[1]?.on ?? today) - x(months[0]?.on ?? from) < room
  return isTight ? months.filter((_, index) => index % 3 === 0) : months
}
