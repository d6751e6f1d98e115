import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { addDays, maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { temperatureFigure } from '@/lib/domain/zone/temperature-unit'
import { createDayScale, type DayScale } from '../ui/picture/day-scale'
import { measureText } from '../ui/picture/text-width'
import type { ZoneDays } from './zone-days-picture'

export const SIZE_PX = 13
const PLOT_PX = 190
const TOP_PX = 26
const FOOT_PX = 24

export type ZoneDaysLayout = {
  left: number
  bottom: number
  height: number
  dayPx: number
  x: DayScale
  y: (temperatureC: number) => number
  ticks: { figure: number; at: number }[]
  setPath: { day: string; night: string }
}

/** Everything of the picture that is arithmetic, px. */
export function layOutDays(data: ZoneDays, widthPx: number): ZoneDaysLayout {
  const { from, today, unit } = data
  const bottom = TOP_PX + PLOT_PX
  const scale = figureScale(data).range([bottom, TOP_PX])
  const ticks = scale.ticks(5).map((figure) => ({ figure, at: scale(figure) }))
  const left = 10 + Math.max(...ticks.map(({ figure }) => measureText(String(figure), { sizePx: SIZE_PX })))
  const until = addDays(today, 1)
  const x = createDayScale({ from, until }, [left, widthPx])
  const y = (temperatureC: number) => scale(temperatureFigure(temperatureC, unit))
  return {
    left,
    bottom,
    height: bottom + FOOT_PX,
    dayPx: x(addDays(from, 1)) - x(from),
    x,
    y,
    ticks,
    setPath: setPaths(data, { x, y }),
  }
}

/** From the coldest to the warmest of everything drawn, in the unit of the workspace. */
function figureScale({ days, setPoints, limits, from, unit }: ZoneDays): ScaleLinear<number, number> {
  const inForce = inForceFrom(setPoints, from)
  const drawnC = [
    ...days.flatMap(({ minC, maxC }) => [minC, maxC]),
    ...inForce.flatMap(({ dayC, nightC }) => [dayC, nightC ?? dayC]),
    ...[limits?.lowC, limits?.highC].filter((limitC) => limitC !== null && limitC !== undefined),
  ]
  const lowest = drawnC.length === 0 ? 15 : Math.min(...drawnC) - 1
  const highest = drawnC.length === 0 ? 30 : Math.max(...drawnC) + 1.5
  const figures = [lowest, highest].map((temperatureC) => temperatureFigure(temperatureC, unit))
  return scaleLinear().domain(figures).nice(5)
}

/** The set points that hold on any day from `from` on; the first of them may be older. */
function inForceFrom(setPoints: ZoneDays['setPoints'], from: PlainDate): ZoneDays['setPoints'] {
  const last = setPoints.findLastIndex((setPoint) => setPoint.from <= from)
  return setPoints.slice(Math.max(0, last))
}

/** What it was set to as steps: by day, and by night where that is another temperature. */
function setPaths({ setPoints, from, today }: ZoneDays, { x, y }: Pick<ZoneDaysLayout, 'x' | 'y'>) {
  const end = addDays(today, 1)
  const steps = inForceFrom(setPoints, from).flatMap((setPoint, index, all) => {
    const until = all[index + 1]?.from ?? end
    const first = index === 0 ? from : maxDate(from, setPoint.from)
    return first < end && first < until ? [{ ...setPoint, first, until: minDate(until, end) }] : []
  })
  const pathOf = (figureOf: (step: (typeof steps)[number]) => number | null) =>
    steps
      .flatMap((step) => {
        const temperatureC = figureOf(step)
        return temperatureC === null ? [] : [`M${x(step.first)} ${y(temperatureC)}H${x(step.until)}`]
      })
      .join('')
  return { day: pathOf(({ dayC }) => dayC), night: pathOf(({ nightC }) => nightC) }
}
