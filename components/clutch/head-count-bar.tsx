import type { HeadCount, HeadCountField } from '@/lib/domain/head-count/head-count'
import { Dots, Hatching } from '../ui/picture/hatching'
import { Picture, type Rendition } from '../ui/picture/picture'
import { spreadLabels } from '../ui/picture/spread-labels'
import { measureText } from '../ui/picture/text-width'
import { cutBar, listParts, type Part, type Segment } from './head-count-parts'

type Props = {
  count: HeadCount
  /** Nobody counts 140 nymphs at seven in the morning: "about", until counted or fully parted. */
  isAbout?: boolean
}

const BAR_PX = 36
const SIZE_PX = 13
const LEGEND_ROW_PX = 22

/** Where every animal of the clutch is, as one bar that adds up. */
export function HeadCountBar({ count, isAbout = false }: Props) {
  const parts = listParts(count)
  const said = parts.filter((part) => part.count !== 0)
  const hatched = `${isAbout ? 'about ' : ''}${count.hatched} hatched`
  return (
    <Picture
      title="Head count"
      description={`${hatched}: ${said.map((part) => `${part.count} ${part.word}`).join(', ') || 'none'}.`}
      heightOf={(widthPx) => heightOf(parts, widthPx)}
      draw={(rendition) => <Bar parts={parts} rendition={rendition} />}
      table={{
        head: ['Where', 'Animals'],
        rows: [
          ...said.map((part) => [part.word, String(part.count)]),
          ['hatched', hatched.replace(' hatched', '')],
        ],
      }}
    />
  )
}

function labelWidth(part: Part): number {
  return Math.max(
    measureText(String(part.count), { sizePx: SIZE_PX, isBold: true }),
    measureText(part.word, { sizePx: SIZE_PX }),
  )
}

function placeLabels(segments: readonly Segment[], widthPx: number): number[] | null {
  return spreadLabels(
    segments.map((segment) => ({ at: segment.left, width: labelWidth(segment) })),
    widthPx,
  )
}

function heightOf(parts: readonly Part[], widthPx: number): number {
  const segments = cutBar(parts, widthPx)
  if (segments.length === 0) return BAR_PX
  if (placeLabels(segments, widthPx)) return BAR_PX + 48
  return BAR_PX + 10 + Math.ceil(segments.length / 2) * LEGEND_ROW_PX
}

function Bar({ parts, rendition }: { parts: readonly Part[]; rendition: Rendition }) {
  const { widthPx, id } = rendition
  const segments = cutBar(parts, widthPx)
  const lefts = placeLabels(segments, widthPx)
  return (
    <>
      <defs>
        <Hatching id={`${id}-hatching`} />
        <Dots id={`${id}-dots`} />
      </defs>
      {segments.length === 0 ? (
        <>
          <rect x="0.5" y="0.5" width={widthPx - 1} height={BAR_PX - 1} className="fill-sheet stroke-edge" />
          <text x="12" y={BAR_PX / 2 + 5} fontSize={SIZE_PX} className="fill-soft">
            no animals recorded yet
          </text>
        </>
      ) : null}
      {segments.map((segment) => (
        <Piece
          key={segment.field}
          field={segment.field}
          id={id}
          box={{ ...segment, top: 0, height: BAR_PX }}
        />
      ))}
      {segments.map((segment, position) =>
        lefts ? (
          <Label key={segment.field} segment={segment} left={lefts[position] ?? segment.left} />
        ) : (
          <LegendRow key={segment.field} segment={segment} position={position} rendition={rendition} />
        ),
      )}
    </>
  )
}

type Box = { left: number; top: number; width: number; height: number }

const FILL: Record<HeadCountField, string> = {
  together: 'stroke-ink',
  single: 'fill-ink stroke-ink',
  sold: 'fill-fine stroke-fine',
  givenAway: 'stroke-fine',
  dead: 'fill-soft stroke-soft',
  escaped: 'fill-sheet stroke-soft',
  unaccounted: 'fill-hand stroke-hand',
}

function Piece({ field, id, box }: { field: HeadCountField; id: string; box: Box }) {
  const pattern =
    field === 'together' ? `url(#${id}-hatching)` : field === 'givenAway' ? `url(#${id}-dots)` : undefined
  return (
    <rect
      x={box.left + 0.5}
      y={box.top + 0.5}
      width={Math.max(1, box.width - 1)}
      height={box.height - 1}
      fill={pattern}
      strokeDasharray={field === 'escaped' ? '3 2' : undefined}
      className={FILL[field]}
    />
  )
}

/** Figure over word, under its piece; where neighbours pushed it aside, a leader leads back. */
function Label({ segment, left }: { segment: Segment; left: number }) {
  const isMoved = Math.abs(left - segment.left) > 3
  const from = segment.left + Math.min(segment.width / 2, 6)
  return (
    <g>
      {isMoved ? (
        <path
          d={`M${from} ${BAR_PX + 1}V${BAR_PX + 4}L${left + 6} ${BAR_PX + 10}`}
          fill="none"
          className="stroke-edge"
        />
      ) : null}
      <text x={left} y={BAR_PX + 24} fontSize={SIZE_PX} fontWeight="700" className="fill-ink">
        {segment.count}
      </text>
      <text x={left} y={BAR_PX + 41} fontSize={SIZE_PX} className="fill-soft">
        {segment.word}
      </text>
    </g>
  )
}

/** On a phone with many pieces the words stand in two columns, each with a sample of its piece. */
function LegendRow({
  segment,
  position,
  rendition,
}: {
  segment: Segment
  position: number
  rendition: Rendition
}) {
  const left = (position % 2) * (rendition.widthPx / 2)
  const top = BAR_PX + 12 + Math.floor(position / 2) * LEGEND_ROW_PX
  const figure = left + 50
  return (
    <g>
      <Piece field={segment.field} id={rendition.id} box={{ left, top, width: 16, height: 14 }} />
      <text x={figure} y={top + 12} fontSize={SIZE_PX} fontWeight="700" textAnchor="end" className="fill-ink">
        {segment.count}
      </text>
      <text x={figure + 7} y={top + 12} fontSize={SIZE_PX} className="fill-soft">
        {segment.word}
      </text>
    </g>
  )
}
