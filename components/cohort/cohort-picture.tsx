import { area, curveMonotoneX, line } from 'd3-shape'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { CohortCourse, CohortDay } from '@/lib/domain/cohort/course'
import {
  createDayScale,
  type DayScale,
  listMonths,
  listWeeks,
  shortDay,
  type Tick,
} from '../ui/picture/day-scale'
import { DayTicks } from '../ui/picture/day-ticks'
import { Picture, type Rendition } from '../ui/picture/picture'
import { measureText } from '../ui/picture/text-width'
import { TodayLabel } from '../ui/picture/today-label'
import { SeenMarks } from './seen-marks'

type Props = {
  course: CohortCourse
  today: PlainDate
  /** What a stage is called, by moults made. */
  stages: readonly { moults: number; label: string }[]
}

const SIZE_PX = 13
const ROW_PX = 62
const NAME_PX = 20
const HEAD_PX = 26
const FOOT_PX = 24

/** One strip a stage: the hill is the share expected in it, the dots are the share of those parted that was. */
export function CohortPicture(props: Props) {
  const { course, stages } = props
  return (
    <Picture
      title="Stages of the clutch over time"
      description={describe(props)}
      heightOf={() => HEAD_PX + stages.length * ROW_PX + FOOT_PX}
      draw={(rendition) => <Strips data={props} rendition={rendition} />}
      table={{
        head: ['Day', ...stages.flatMap(({ label }) => [`${label}, expected`, `${label}, seen`])],
        rows: tableDays(course).map((day) => [
          shortDay(day.on),
          ...stages.flatMap(({ moults }) => [
            percent(day.expected[moults] ?? 0),
            day.seen ? `${percent(day.seen.shares[moults] ?? 0)} of ${day.seen.animals}` : '–',
          ]),
        ]),
      }}
    />
  )
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`
}

function tableDays({ days }: CohortCourse): CohortDay[] {
  const every = Math.ceil(days.length / 16)
  return days.filter((_, index) => index % every === 0)
}

function describe({ course, today, stages }: Props): string {
  const now = course.days.findLast(({ on }) => on <= today)
  if (!now) return ''
  return stages
    .map(({ moults, label }) => {
      const seen = now.seen ? `, seen ${percent(now.seen.shares[moults] ?? 0)}` : ''
      return `${label}: expected today ${percent(now.expected[moults] ?? 0)}${seen}.`
    })
    .join(' ')
}

function Strips({ data, rendition }: { data: Props; rendition: Rendition }) {
  const { course, stages, today } = data
  const { widthPx } = rendition
  const from = course.days[0]?.on ?? today
  const until = course.days.at(-1)?.on ?? addDays(today, 1)
  const x = createDayScale({ from, until }, [2, widthPx - 2])
  const bottom = HEAD_PX + stages.length * ROW_PX
  return (
    <>
      {stages.map((stage, row) => (
        <Strip
          key={stage.moults}
          stage={stage}
          data={data}
          place={{ x, top: HEAD_PX + row * ROW_PX, widthPx }}
        />
      ))}
      <Today at={x(today)} widthPx={widthPx} rows={stages.length} />
      <DayTicks ticks={listTicks({ from, until }, x)} x={x} at={{ y: bottom + 17, widthPx }} />
    </>
  )
}

export type StripPlace = { x: DayScale; top: number; widthPx: number }
type StripProps = { stage: Props['stages'][number]; data: Props; place: StripPlace }

function Strip({ stage, data: { course, today }, place }: StripProps) {
  const { x, top, widthPx } = place
  const base = top + ROW_PX - 4
  const y = (share: number) => base - share * (ROW_PX - NAME_PX - 6)
  const expected = (day: CohortDay) => day.expected[stage.moults] ?? 0
  const hill = area<CohortDay>(
    (day) => x(day.on),
    base,
    (day) => y(expected(day)),
  ).curve(curveMonotoneX)
  const ridge = line<CohortDay>(
    (day) => x(day.on),
    (day) => y(expected(day)),
  ).curve(curveMonotoneX)
  const days = [...course.days]
  return (
    <g>
      <path d={hill(days) ?? ''} className="fill-band" />
      <path d={ridge(days) ?? ''} fill="none" strokeWidth="1.5" className="stroke-likely" />
      <path d={`M0 ${base}H${widthPx}`} strokeWidth="1" className="stroke-edge" />
      <SeenMarks course={course} moults={stage.moults} place={{ x, y, today }} />
      <text x="0" y={top + 14} fontSize={SIZE_PX} fontWeight="600" className="fill-ink">
        {stage.label}
      </text>
    </g>
  )
}

function Today({ at, widthPx, rows }: { at: number; widthPx: number; rows: number }) {
  // The line keeps clear of the names of the stages, which stand at the left of each strip.
  const strips = Array.from({ length: rows }, (_, row) => HEAD_PX + row * ROW_PX)
  const path = strips.map((top) => `M${at} ${top + NAME_PX}V${top + ROW_PX - 4}`).join('')
  return (
    <>
      <path d={`M${at} 16V${HEAD_PX - 4}${path}`} strokeWidth="1.5" className="stroke-ink" />
      <TodayLabel at={at} y={12} sizePx={SIZE_PX} inside={{ left: 0, right: widthPx }} />
    </>
  )
}

function listTicks({ from, until }: { from: PlainDate; until: PlainDate }, x: DayScale): Tick[] {
  const weeks = listWeeks(from, until)
  const room = 1.5 * measureText('24 Nov', { sizePx: SIZE_PX })
  if (weeks.length > 1 && x(addDays(from, 7)) - x(from) >= room) return weeks
  const months = listMonths(from, until)
  return months.length > 1 ? months : [from, until].map((on) => ({ on, label: shortDay(on) }))
}
