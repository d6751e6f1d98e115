import { measureText } from './text-width'

type Props = { at: number; y: number; sizePx: number; inside: { left: number; right: number } }

/** The word over the line of today, centred on it and kept inside the picture. */
export function TodayLabel({ at, y, sizePx, inside }: Props) {
  const width = measureText('today', { sizePx, isBold: true })
  const left = Math.max(inside.left, Math.min(at - width / 2, inside.right - width))
  return (
    <text x={left} y={y} fontSize={sizePx} fontWeight="600" className="fill-ink">
      today
    </text>
  )
}
