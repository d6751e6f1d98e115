import { measureText } from '../ui/picture/text-width'

const SIZE_PX = 13
const MARK_PX = 12
const ROW_PX = 22

type Entry = { words: string; className: string; isHatched?: boolean; isBand?: boolean }

const ENTRIES: Entry[] = [
  { words: 'adults', className: 'fill-ink' },
  { words: 'nymphs old enough to sell', className: 'fill-soft' },
  { words: 'younger nymphs', className: 'fill-edge' },
  { words: 'still to hatch', className: 'stroke-ink', isHatched: true },
  { words: 'all, 10–90 %', className: 'fill-band', isBand: true },
]

/** What the parts of a bar are, in as many rows as the width needs. */
export function RoomLegend({ widthPx, hatching }: { widthPx: number; hatching: string }) {
  let left = 0
  let row = 0
  return ENTRIES.map((entry) => {
    const { words } = entry
    const width = MARK_PX + 6 + measureText(words, { sizePx: SIZE_PX }) + 18
    if (left > 0 && left + width - 18 > widthPx) {
      left = 0
      row += 1
    }
    const at = { left, top: row * ROW_PX }
    left += width
    return (
      <g key={entry.words}>
        <rect
          x={at.left + 0.5}
          y={at.top + 2.5}
          width={MARK_PX - 1}
          height={MARK_PX - 1}
          className={entry.className}
          fill={entry.isHatched ? hatching : undefined}
        />
        {entry.isBand ? (
          <path d={`M${at.left} ${at.top + 8}h${MARK_PX}`} strokeWidth="2" className="stroke-likely" />
        ) : null}
        <text x={at.left + MARK_PX + 6} y={at.top + 13} fontSize={SIZE_PX} className="fill-soft">
          {words}
        </text>
      </g>
    )
  })
}
