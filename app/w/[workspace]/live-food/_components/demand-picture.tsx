import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import { createDayScale, shortDay } from '@/components/ui/picture/day-scale'
import { Hatching } from '@/components/ui/picture/hatching'
import { Picture, type Rendition } from '@/components/ui/picture/picture'
import { measureText } from '@/components/ui/picture/text-width'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { type LineOutlook, type OutlookWeek, type SupplyWeek, sumOf } from '@/lib/domain/food-demand/outlook'

type Props = { outlook: LineOutlook; today: PlainDate }

const HEIGHT_PX = 190
const HEAD_PX = 24
const FOOT_PX = 40

/** From the bottom up. Certain is solid, what is only planned is hatched. */
const SOURCES = [
  { key: 'stock', word: 'in stock or left over', look: 'fill-soft' },
  { key: 'jars', word: 'from jars', look: 'fill-ink' },
  { key: 'suspect', word: 'from suspect jars', look: 'fill-hush' },
  { key: 'ordered', word: 'on order', look: 'fill-fine' },
  { key: 'planned', word: 'from starts and orders planned', look: '' },
] as const

const NUMBER = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 0 })

/** Bars: where the flies of a week come from. Line and sand band: how many are needed, with 10–90 %. */
export function DemandPicture({ outlook, today }: Props) {
  const { name, words, weeks } = outlook
  const used = SOURCES.filter(({ key }) => weeks.some(({ supply }) => supply[key] > 0.5))
  return (
    <>
      <Legend used={used} />
      <Picture
        title={`${name}: needed and coming, by week`}
        description={words}
        heightOf={() => HEAD_PX + HEIGHT_PX + FOOT_PX}
        draw={(rendition) => <Drawing weeks={weeks} today={today} rendition={rendition} />}
        table={{
          head: ['Week from', 'Needed', '10–90 %', 'Coming', ...used.map(({ word }) => word), 'Short'],
          rows: weeks.map(({ from, need, supply, short }) => [
            shortDay(from),
            NUMBER.format(need.mean),
            `${NUMBER.format(need.p10)}–${NUMBER.format(need.p90)}`,
            NUMBER.format(sumOf(supply)),
            ...used.map(({ key }) => NUMBER.format(supply[key])),
            short > 0.5 ? NUMBER.format(short) : 'none',
          ]),
        }}
      />
    </>
  )
}

function Legend({ used }: { used: readonly (typeof SOURCES)[number][] }) {
  return (
    <ul aria-label="What the bars are" className="mb-1 flex flex-wrap gap-x-4 text-small text-soft">
      {used.map(({ key, word, look }) => (
        <li key={key} className="flex items-center gap-1.5">
          <svg viewBox="0 0 12 12" className="size-3" aria-hidden="true">
            <rect
              x="0.5"
              y="0.5"
              width="11"
              height="11"
              className={look || 'fill-sheet stroke-ink'}
              strokeWidth={look ? 0 : 1}
            />
            {look ? null : <path d="M0 12 12 0M0 7 7 0M5 12 12 5" className="stroke-ink" strokeWidth="1.2" />}
          </svg>
          {word}
        </li>
      ))}
      <li className="flex items-center gap-1.5">
        <svg viewBox="0 0 16 12" className="h-3 w-4" aria-hidden="true">
          <rect width="16" height="12" className="fill-band" />
          <path d="M0 6h16" className="stroke-hand" strokeWidth="2" />
        </svg>
        needed, with its 10–90 % spread
      </li>
    </ul>
  )
}

type Drawn = { weeks: readonly OutlookWeek[]; today: PlainDate; rendition: Rendition }

function Drawing({ weeks, today, rendition }: Drawn) {
  const { widthPx, id } = rendition
  const first = weeks[0]?.from ?? today
  const x = createDayScale({ from: first, until: addDays(first, weeks.length * 7) }, [0, widthPx])
  const most = Math.max(1, ...weeks.flatMap(({ need, supply }) => [need.p90, sumOf(supply)]))
  const bottom = HEAD_PX + HEIGHT_PX
  const y = scaleLinear().domain([0, most]).range([bottom, HEAD_PX])
  const middle = (from: PlainDate) => (x(from) + x(addDays(from, 7))) / 2
  return (
    <>
      <defs>
        <Hatching id={`${id}-hatching`} />
      </defs>
      {weeks.map((week) => (
        <Stack
          key={week.from}
          supply={week.supply}
          y={y}
          box={{ left: x(week.from), right: x(addDays(week.from, 7)) }}
          hatching={`url(#${id}-hatching)`}
        />
      ))}
      <Need weeks={weeks} middle={middle} y={y} />
      <path d={`M0 ${bottom}H${widthPx}`} strokeWidth="1.5" className="stroke-ink" />
      {weeks.map(({ from, short, need }) =>
        short > Math.max(3, 0.08 * need.mean) ? (
          <path key={from} d={`M${middle(from) - 5} ${bottom + 4}h10v10h-10z`} className="fill-hand" />
        ) : null,
      )}
      <text x={0} y={HEAD_PX - 8} fontSize="13" className="fill-soft">
        {NUMBER.format(most)} a week
      </text>
      <Weeks weeks={weeks} middle={middle} at={{ y: bottom + 32, widthPx }} />
      <path d={`M1 ${HEAD_PX}V${bottom}`} strokeWidth="1.5" className="stroke-ink" />
      <text
        x={6}
        y={HEAD_PX + 12}
        fontSize="13"
        fontWeight="600"
        paintOrder="stroke"
        strokeWidth="4"
        className="fill-ink stroke-ground"
      >
        today
      </text>
    </>
  )
}

type StackProps = {
  supply: SupplyWeek
  y: ScaleLinear<number, number>
  box: { left: number; right: number }
  hatching: string
}

function Stack({ supply, y, box, hatching }: StackProps) {
  const gap = Math.min(6, (box.right - box.left) * 0.12)
  let below = 0
  return SOURCES.map(({ key, look }) => {
    const amount = supply[key]
    if (amount < 0.5) return null
    const [from, to] = [below, below + amount]
    below = to
    return (
      <rect
        key={key}
        x={box.left + gap}
        y={y(to)}
        width={box.right - box.left - 2 * gap}
        height={Math.max(1, y(from) - y(to))}
        fill={look ? undefined : hatching}
        className={look || 'stroke-ink'}
        strokeWidth={look ? 0 : 1}
      />
    )
  })
}

type NeedProps = {
  weeks: readonly OutlookWeek[]
  middle: (from: PlainDate) => number
  y: ScaleLinear<number, number>
}

function Need({ weeks, middle, y }: NeedProps) {
  const band = area<OutlookWeek>()
    .x(({ from }) => middle(from))
    .y0(({ need }) => y(need.p10))
    .y1(({ need }) => y(need.p90))([...weeks])
  const mean = line<OutlookWeek>()
    .x(({ from }) => middle(from))
    .y(({ need }) => y(need.mean))([...weeks])
  return (
    <>
      <path d={band ?? ''} className="fill-band" fillOpacity="0.75" />
      <path d={mean ?? ''} fill="none" strokeWidth="3" className="stroke-hand" />
    </>
  )
}

type WeeksProps = {
  weeks: readonly OutlookWeek[]
  middle: (from: PlainDate) => number
  at: { y: number; widthPx: number }
}

/** As many first days as fit beside each other. */
function Weeks({ weeks, middle, at }: WeeksProps) {
  const width = measureText('24 Nov', { sizePx: 13 }) + 10
  const every = Math.max(1, Math.ceil((width * weeks.length) / at.widthPx))
  return weeks
    .filter((_, index) => index % every === 0)
    .map(({ from }) => (
      <text
        key={from}
        x={Math.max(0, Math.min(middle(from) - width / 2, at.widthPx - width))}
        y={at.y}
        fontSize="13"
        className="fill-soft"
      >
        {shortDay(from)}
      </text>
    ))
}
