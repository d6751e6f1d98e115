import { addDays, maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { createDayScale, type DayScale, listWeeks, shortRange } from '../ui/picture/day-scale'
import { Hatching } from '../ui/picture/hatching'
import { Picture, type Rendition } from '../ui/picture/picture'
import { measureText } from '../ui/picture/text-width'
import { TodayLabel } from '../ui/picture/today-label'
import type { State } from '../ui/state-mark'
import { HatchRow } from './hatch-window-row'

export type HatchWindow = {
  /** "E-12" */
  code: string
  scientificName: string
  /** Since when it incubates: laid, received, or out of its cold rest. Null where nobody knows. */
  warmSince: PlainDate | null
  coldRest: { from: PlainDate; until: PlainDate; isPlanned?: boolean } | null
  /** Chance that it hatches at all, and how many to be ready for. */
  chance?: number
  nymphs?: { low: number; typical: number; high: number }
  /** From when it is overdue. */
  overdueOn?: PlainDate | null
  /** 10, 50 and 90 %. */
  window: { p10: PlainDate; p50: PlainDate; p90: PlainDate }
  state: State
  /** The state in words: "expected", "may hatch now", "overdue". */
  word: string
}

type Props = { windows: readonly HatchWindow[]; today: PlainDate }

const SIZE_PX = 13
const HEAD_PX = 44
const NAMES_PX = 210
/** Below this width the names stand above their bars instead of beside them. */
const BESIDE_FROM_PX = 500

/** All egg cases on one axis of days: what has run, and when each will probably hatch. */
export function HatchWindowAxis({ windows, today }: Props) {
  if (windows.length === 0) return null
  return (
    <Picture
      title="When the egg cases will hatch"
      description={windows
        .map(({ code, window, word }) => `${code} ${shortRange(window.p10, window.p90)}, ${word}.`)
        .join(' ')}
      heightOf={(widthPx) => HEAD_PX + windows.length * rowHeight(widthPx) + 4}
      draw={(rendition) => <Axis windows={windows} today={today} rendition={rendition} />}
      table={{
        head: ['Egg case', 'Species', 'Window', 'Most likely', 'Chance', 'Nymphs', 'Overdue from', 'State'],
        rows: windows.map(({ code, scientificName, window, word, chance, nymphs, overdueOn }) => [
          code,
          scientificName,
          shortRange(window.p10, window.p90),
          shortRange(window.p50, window.p50),
          chance === undefined ? '' : `${Math.round(100 * chance)} %`,
          nymphs ? `${nymphs.typical} (${nymphs.low}–${nymphs.high})` : '',
          overdueOn ? shortRange(overdueOn, overdueOn) : '',
          word,
        ]),
      }}
    />
  )
}

function rowHeight(widthPx: number): number {
  return widthPx < BESIDE_FROM_PX ? 54 : 40
}

function Axis({ windows, today, rendition }: Props & { rendition: Rendition }) {
  const { widthPx } = rendition
  const isBeside = widthPx >= BESIDE_FROM_PX
  const from = addDays(windows.map((hatch) => hatch.window.p10).reduce(minDate, today), -7)
  const until = addDays(windows.map((hatch) => hatch.window.p90).reduce(maxDate, today), 3)
  const left = isBeside ? NAMES_PX : 0
  const x = createDayScale({ from, until }, [left, widthPx])
  const box = { left, right: widthPx, strips: listStrips(windows.length, widthPx) }
  return (
    <>
      <defs>
        <Hatching id={`${rendition.id}-hatching`} />
      </defs>
      <Weeks days={{ from, until, today }} x={x} box={box} />
      {windows.map((hatch, row) => (
        <HatchRow
          key={hatch.code}
          hatch={hatch}
          axis={{ x, from, today, left, right: widthPx }}
          place={{
            top: HEAD_PX + row * rowHeight(widthPx),
            height: rowHeight(widthPx),
            isBeside,
            hatching: `url(#${rendition.id}-hatching)`,
          }}
        />
      ))}
      <Today x={x(today)} box={box} />
    </>
  )
}

type Strip = { top: number; bottom: number }
type Box = { left: number; right: number; strips: Strip[] }

/** Where upright lines may run: through everything, or only past the bars where names stand above them. */
function listStrips(rows: number, widthPx: number): Strip[] {
  const height = rowHeight(widthPx)
  if (widthPx >= BESIDE_FROM_PX) return [{ top: HEAD_PX, bottom: HEAD_PX + rows * height }]
  return Array.from({ length: rows }, (_, row) => ({
    top: HEAD_PX + row * height + 25,
    bottom: HEAD_PX + (row + 1) * height - 1,
  }))
}

function upright(x: number, strips: readonly Strip[]): string {
  return strips.map((strip) => `M${x} ${strip.top}V${strip.bottom}`).join('')
}

type Days = { from: PlainDate; until: PlainDate; today: PlainDate }

/** Every week has its line; words only where they stand clear of each other and of the line of today. */
function Weeks({ days, x, box }: { days: Days; x: DayScale; box: Box }) {
  let free = box.left
  return listWeeks(days.from, days.until).map((week) => {
    const width = measureText(week.label, { sizePx: SIZE_PX })
    const isCrossed = x(week.on) - 4 < x(days.today) && x(week.on) + width + 4 > x(days.today)
    const isSaid = !isCrossed && x(week.on) >= free && x(week.on) + width <= box.right
    if (isSaid) free = x(week.on) + width + 14
    return (
      <g key={week.on}>
        <path
          d={`M${x(week.on)} ${HEAD_PX - (isSaid ? 10 : 4)}V${HEAD_PX}${upright(x(week.on), box.strips)}`}
          className="stroke-line"
        />
        {isSaid ? (
          <text x={x(week.on)} y={HEAD_PX - 14} fontSize={SIZE_PX} className="fill-soft">
            {week.label}
          </text>
        ) : null}
      </g>
    )
  })
}

function Today({ x, box }: { x: number; box: Box }) {
  return (
    <>
      <path d={`M${x} 15V${HEAD_PX}${upright(x, box.strips)}`} strokeWidth="2" className="stroke-ink" />
      <TodayLabel at={x} y={11} sizePx={SIZE_PX} inside={box} />
    </>
  )
}
