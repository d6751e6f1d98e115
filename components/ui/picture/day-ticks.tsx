import type { DayScale, Tick } from './day-scale'
import { measureText } from './text-width'

const SIZE_PX = 13

/** The days under a picture, each centred on its own and kept inside its edges. */
export function DayTicks({
  ticks,
  x,
  at,
}: {
  ticks: readonly Tick[]
  x: DayScale
  at: { y: number; widthPx: number }
}) {
  return ticks.map((tick) => {
    const width = measureText(tick.label, { sizePx: SIZE_PX })
    const left = Math.max(0, Math.min(x(tick.on) - width / 2, at.widthPx - width))
    return (
      <text key={tick.on} x={left} y={at.y} fontSize={SIZE_PX} className="fill-soft">
        {tick.label}
      </text>
    )
  })
}
