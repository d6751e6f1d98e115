import { scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import { createDayScale, listWeeks, shortDay } from '@/components/ui/picture/day-scale'
import { DayTicks } from '@/components/ui/picture/day-ticks'
import { type Flag, FlagRow, flagRowHeight } from '@/components/ui/picture/flag-row'
import { Picture, type Rendition } from '@/components/ui/picture/picture'
import { addDays, daysBetween, maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { onsetDay } from '@/lib/domain/culture/running'

type Props = {
  startedOn: PlainDate
  today: PlainDate
  /** Flies of each day from the start on, of a usual jar. */
  expected: readonly number[]
  harvests: readonly { on: PlainDate; count: number }[]
}

const HEIGHT_PX = 150
const LABEL_PX = 24

/** The sand band is what a jar of this line gives here; a bar is a harvest, as wide as the days it gathers. */
export function JarPicture(props: Props) {
  const { expected, harvests, startedOn } = props
  const taken = harvests.reduce((sum, { count }) => sum + count, 0)
  const all = expected.reduce((sum, flies) => sum + flies, 0)
  return (
    <Picture
      title="Expected and taken, flies a day"
      description={`A usual jar gives about ${Math.round(all)} in ${expected.length} days; ${Math.round(taken)} were taken of this one.`}
      heightOf={(widthPx) => flagRowHeight(flagsOf(props, widthPx), widthPx) + HEIGHT_PX + LABEL_PX}
      draw={(rendition) => <Drawing {...props} rendition={rendition} />}
      table={{
        head: ['Week', 'Expected', 'Taken'],
        rows: Array.from({ length: Math.ceil(expected.length / 7) }, (_, week) => {
          const from = addDays(startedOn, week * 7)
          const inWeek = harvests.filter(({ on }) => Math.floor(daysBetween(startedOn, on) / 7) === week)
          const flies = expected.slice(week * 7, week * 7 + 7).reduce((sum, each) => sum + each, 0)
          const own = inWeek.reduce((sum, { count }) => sum + count, 0)
          return [shortDay(from), String(Math.round(flies)), String(own)]
        }),
      }}
    />
  )
}

function scaleOf({ startedOn, expected }: Props, widthPx: number) {
  return createDayScale({ from: startedOn, until: addDays(startedOn, expected.length) }, [1, widthPx - 1])
}

function flagsOf(props: Props, widthPx: number): Flag[] {
  const { today, startedOn, expected } = props
  const end = addDays(startedOn, expected.length)
  const x = scaleOf(props, widthPx)
  const discard: Flag = { key: 'discard', x: x(end), text: `discard ${shortDay(end)}`, kind: 'due' }
  return today > end ? [discard] : [{ key: 'today', x: x(today), text: 'today', kind: 'today' }, discard]
}

type Bar = { from: PlainDate; until: PlainDate; perDay: number }

/** A harvest holds what came since the one before, or since the first flies. */
function barsOf({ harvests, startedOn, expected }: Props): Bar[] {
  const onset = addDays(startedOn, Math.max(0, onsetDay(shares(expected)) - 1))
  let before = onset
  return harvests.map(({ on, count }) => {
    const until = addDays(on, 1)
    const from = minDate(before, on)
    before = maxDate(until, before)
    return { from, until, perDay: count / Math.max(1, daysBetween(from, until)) }
  })
}

function shares(expected: readonly number[]): number[] {
  const all = expected.reduce((sum, flies) => sum + flies, 0)
  return expected.map((flies) => (all > 0 ? flies / all : 0))
}

function Drawing(props: Props & { rendition: Rendition }) {
  const { rendition, startedOn, expected } = props
  const { widthPx } = rendition
  const flags = flagsOf(props, widthPx)
  const top = flagRowHeight(flags, widthPx)
  const bottom = top + HEIGHT_PX
  const x = scaleOf(props, widthPx)
  const bars = barsOf(props)
  const most = Math.max(1, ...expected, ...bars.map(({ perDay }) => perDay))
  const y = scaleLinear().domain([0, most]).range([bottom, top])
  const points = expected.map((flies, day): [number, number] => [x(addDays(startedOn, day)), flies])
  const band = area<[number, number]>()
    .x(([left]) => left)
    .y0(bottom)
    .y1(([, flies]) => y(flies))(points)
  const edge = line<[number, number]>()
    .x(([left]) => left)
    .y(([, flies]) => y(flies))(points)
  return (
    <>
      <path d={band ?? ''} className="fill-band" />
      <path d={edge ?? ''} fill="none" strokeWidth="2" className="stroke-likely" />
      {bars.map(({ from, until, perDay }) => (
        <rect
          key={`${from}-${until}`}
          x={x(from) + 0.75}
          y={y(perDay)}
          width={Math.max(2, x(until) - x(from) - 1.5)}
          height={bottom - y(perDay)}
          className="fill-ink"
        />
      ))}
      <path d={`M0 ${bottom}H${widthPx}`} strokeWidth="1.5" className="stroke-ink" />
      <text x={0} y={top + 11} fontSize="13" className="fill-soft">
        {Math.round(most)} a day
      </text>
      <FlagRow flags={flags} room={widthPx} plot={{ top, bottom }} />
      <DayTicks
        ticks={listWeeks(startedOn, addDays(startedOn, expected.length)).filter(
          (_, index) => widthPx > 400 || index % 2 === 0,
        )}
        x={x}
        at={{ y: bottom + 17, widthPx }}
      />
    </>
  )
}
