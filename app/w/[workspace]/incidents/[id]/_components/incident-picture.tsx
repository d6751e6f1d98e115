import { scaleLinear } from 'd3-scale'
import { Picture, type Rendition } from '@/components/ui/picture/picture'
import { wallClock } from '@/lib/domain/calendar/instant'
import {
  type TemperatureUnit,
  temperatureFigure,
  UNIT_SIGN,
  writeTemperature,
} from '@/lib/domain/zone/temperature-unit'
import type { IncidentPage } from '@/lib/features/incident/loaders'

const SIZE_PX = 13
const TOP_PX = 26
const PLOT_PX = 170
const LEFT_PX = 40
/** Two readings further apart than this are not joined: nobody knows what was between them. */
const JOINED_MS = 3 * 3_600_000

type Point = { atMs: number; temperatureC: number }

/** Every reading around the incident, with the limit it left. */
export function IncidentPicture({ page }: { page: IncidentPage }) {
  const { readings, timeZone, unit, incident } = page
  if (readings.length === 0) return null
  const every = Math.ceil(readings.length / 30)
  return (
    <section>
      <h2 className="mb-2">What the thermometer said</h2>
      <Picture
        title="Readings around the incident"
        description={`${readings.length} readings; the furthest was ${writeTemperature(incident.extremeC ?? 0, unit)}.`}
        heightOf={() => TOP_PX + PLOT_PX + 24}
        draw={(rendition) => <Drawing page={page} rendition={rendition} />}
        table={{
          head: ['Time', 'Temperature'],
          rows: readings
            .filter((_, index) => index % every === 0)
            .map(({ atMs, temperatureC }) => {
              const { on, time } = wallClock(atMs, timeZone)
              return [`${on} ${time}`, writeTemperature(temperatureC, unit)]
            }),
        }}
      />
    </section>
  )
}

function Drawing({ page, rendition: { widthPx } }: { page: IncidentPage; rendition: Rendition }) {
  const { readings, drawn, unit, incident, timeZone } = page
  const x = scaleLinear()
    .domain([drawn.fromMs, drawn.untilMs])
    .range([LEFT_PX, widthPx - 6])
    .clamp(true)
  const figures = [
    ...readings.map(({ temperatureC }) => temperatureC),
    incident.limitC ?? readings[0]?.temperatureC ?? 20,
  ].map((temperatureC) => temperatureFigure(temperatureC, unit))
  const y = scaleLinear()
    .domain([Math.min(...figures) - 1, Math.max(...figures) + 1])
    .nice(4)
    .range([TOP_PX + PLOT_PX, TOP_PX])
  const place = ({ atMs, temperatureC }: Point) => `${x(atMs)} ${y(temperatureFigure(temperatureC, unit))}`
  const path = readings
    .map((reading, index) => {
      const before = readings[index - 1]
      return `${before && reading.atMs - before.atMs <= JOINED_MS ? 'L' : 'M'}${place(reading)}`
    })
    .join('')
  const bottom = TOP_PX + PLOT_PX
  return (
    <>
      <text x="0" y="12" fontSize={SIZE_PX} className="fill-soft">
        {UNIT_SIGN[unit]}
      </text>
      {y.ticks(4).map((figure) => (
        <g key={figure}>
          <path d={`M${LEFT_PX} ${y(figure)}H${widthPx}`} className="stroke-line" />
          <text x={LEFT_PX - 6} y={y(figure) + 4} fontSize={SIZE_PX} textAnchor="end" className="fill-soft">
            {String(figure).replace('-', '−')}
          </text>
        </g>
      ))}
      <path d={`M${LEFT_PX} ${bottom}H${widthPx}`} strokeWidth="1.5" className="stroke-ink" />
      <Limit limitC={incident.limitC} y={(figure) => y(figure)} unit={unit} widthPx={widthPx} />
      <path d={path} fill="none" strokeWidth="2" className="stroke-ink" />
      {readings.length <= 40
        ? readings.map((reading) => (
            <circle
              key={reading.atMs}
              cx={x(reading.atMs)}
              cy={y(temperatureFigure(reading.temperatureC, unit))}
              r="2.5"
              className="fill-ink"
            />
          ))
        : null}
      {[drawn.fromMs, drawn.untilMs].map((atMs, index) => (
        <text
          key={atMs}
          x={index === 0 ? LEFT_PX : widthPx}
          y={bottom + 17}
          fontSize={SIZE_PX}
          textAnchor={index === 0 ? 'start' : 'end'}
          className="fill-soft"
        >
          {wallClock(atMs, timeZone).time}
        </text>
      ))}
    </>
  )
}

type LimitProps = {
  limitC: number | null
  y: (figure: number) => number
  unit: TemperatureUnit
  widthPx: number
}

function Limit({ limitC, y, unit, widthPx }: LimitProps) {
  if (limitC === null) return null
  const at = y(temperatureFigure(limitC, unit))
  return (
    <>
      <path
        d={`M${LEFT_PX} ${at}H${widthPx}`}
        strokeWidth="1.5"
        strokeDasharray="6 3"
        className="stroke-hand"
      />
      <text x={LEFT_PX + 4} y={at - 5} fontSize={SIZE_PX} fontWeight="600" className="fill-hand">
        {`limit ${temperatureFigure(limitC, unit)}`}
      </text>
    </>
  )
}
