import { useId } from 'react'
import { Hatching } from '@/components/ui/picture/hatching'
import { Picture, type Rendition } from '@/components/ui/picture/picture'
import { measureText } from '@/components/ui/picture/text-width'
import type { Coverage } from '@/lib/domain/past-window/judge'

export type CoverageRow = { label: string; coverage: Coverage; isLatin?: boolean }

type Props = { title: string; rows: readonly CoverageRow[] }

const SIZE_PX = 13
const BAR_PX = 16
const LABEL_PX = 210
const COUNT_PX = 84
/** Below this width the names stand above their bars instead of beside them. */
const BESIDE_FROM_PX = 500

const rowPx = (widthPx: number) => (widthPx < BESIDE_FROM_PX ? 52 : 34)
const countOf = ({ held, judged }: Coverage) => `${Math.round(held)} of ${judged}`

/** For each group the share of windows that held, came earlier and came later, and a line to which the first should reach. */
export function CoveragePicture({ title, rows }: Props) {
  return (
    <>
      <Legend />
      <Picture
        title={title}
        description={rows.map(({ label, coverage }) => `${label}: ${countOf(coverage)} held.`).join(' ')}
        heightOf={(widthPx) => rows.length * rowPx(widthPx) + 4}
        draw={(rendition) => <Rows rows={rows} rendition={rendition} />}
        table={{
          head: ['', 'Judged', 'Came earlier', 'Held', 'Came later', 'Should have held', 'Usual width'],
          rows: rows.map(({ label, coverage }) => [label, ...figuresOf(coverage)]),
        }}
      />
    </>
  )
}

function figuresOf({ judged, early, held, late, said, medianWindowDays }: Coverage): string[] {
  const figure = (count: number) => String(Math.round(count * 10) / 10)
  return [
    String(judged),
    figure(early),
    figure(held),
    figure(late),
    figure(said),
    medianWindowDays === null ? '' : `${medianWindowDays} days`,
  ]
}

function Legend() {
  const late = useId()
  return (
    <ul className="mb-2 flex flex-wrap gap-x-5 gap-y-1 text-small text-soft" aria-hidden="true">
      <Key word="held">
        <rect y="2" width="22" height="12" className="fill-ink" />
      </Key>
      <Key word="came earlier">
        <rect x="0.5" y="2.5" width="21" height="11" className="fill-sheet stroke-ink" />
      </Key>
      <Key word="came later">
        <defs>
          <Hatching id={late} />
        </defs>
        <rect x="0.5" y="2.5" width="21" height="11" fill={`url(#${late})`} className="stroke-ink" />
      </Key>
      <Key word="so many said they would hold">
        <path d="M11 0v16" strokeWidth="3" className="stroke-likely" />
      </Key>
    </ul>
  )
}

function Key({ word, children }: { word: string; children: React.ReactNode }) {
  return (
    <li className="inline-flex items-center gap-2">
      <svg width="22" height="16" aria-hidden="true">
        {children}
      </svg>
      {word}
    </li>
  )
}

function Rows({ rows, rendition }: { rows: readonly CoverageRow[]; rendition: Rendition }) {
  const { widthPx, id } = rendition
  return (
    <>
      <defs>
        <Hatching id={`${id}-late`} />
      </defs>
      {rows.map((row, index) => (
        <Row
          key={row.label}
          row={row}
          place={{ top: index * rowPx(widthPx), widthPx, late: `url(#${id}-late)` }}
        />
      ))}
    </>
  )
}

type Place = { top: number; widthPx: number; late: string }

function Row({ row: { label, coverage, isLatin }, place }: { row: CoverageRow; place: Place }) {
  const { top, widthPx } = place
  const isBeside = widthPx >= BESIDE_FROM_PX
  const bar = {
    left: isBeside ? LABEL_PX : 0,
    right: widthPx - COUNT_PX,
    top: isBeside ? top + (rowPx(widthPx) - BAR_PX) / 2 : top + 26,
  }
  return (
    <g fontSize={SIZE_PX}>
      <path d={`M0 ${top + 0.5}H${widthPx}`} className="stroke-line" />
      <text
        x="0"
        y={isBeside ? bar.top + 12.5 : top + 18}
        className={isLatin ? 'latin fill-ink' : 'fill-ink'}
      >
        {shorten(label, isBeside ? LABEL_PX - 10 : widthPx)}
      </text>
      <Bar coverage={coverage} bar={bar} late={place.late} />
      <text x={widthPx} y={bar.top + 12.5} textAnchor="end" className="fill-ink" fontWeight="700">
        {countOf(coverage)}
      </text>
    </g>
  )
}

function shorten(label: string, roomPx: number): string {
  if (measureText(label, { sizePx: SIZE_PX }) <= roomPx) return label
  const [first = '', ...rest] = label.split(' ')
  return [`${first.slice(0, 1)}.`, ...rest].join(' ')
}

type BarPlace = { left: number; right: number; top: number }

function Bar({ coverage, bar, late }: { coverage: Coverage; bar: BarPlace; late: string }) {
  const { judged, early, held, said } = coverage
  if (judged === 0) return null
  const x = (count: number) => bar.left + ((bar.right - bar.left) * count) / judged
  const part = (from: number, until: number) => ({
    x: x(from) + 0.5,
    y: bar.top + 0.5,
    width: Math.max(0, x(until) - x(from) - 1),
    height: BAR_PX - 1,
  })
  return (
    <>
      {held > 0 ? <rect {...part(0, held)} className="fill-ink stroke-ink" /> : null}
      {early > 0 ? <rect {...part(held, held + early)} className="fill-sheet stroke-ink" /> : null}
      {judged - early - held > 0.001 ? (
        <rect {...part(held + early, judged)} fill={late} className="stroke-ink" />
      ) : null}
      <path d={`M${x(said)} ${bar.top - 4}v${BAR_PX + 8}`} strokeWidth="3" className="stroke-likely" />
    </>
  )
}
