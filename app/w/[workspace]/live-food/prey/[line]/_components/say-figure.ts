import type { Figure } from '@/lib/domain/prey/figure'

const FIGURE = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 2 })
const SHARE = new Intl.NumberFormat('en-GB', { style: 'percent', maximumFractionDigits: 1 })
const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']

/** A figure with its unit, as a person says it. */
export function sayFigure({ value, unit }: Pick<Figure, 'value' | 'unit'>, currency: string): string {
  if (value === null) return 'no upper end'
  if (typeof value !== 'number') return value.map((day) => WEEKDAYS[day - 1] ?? '').join(', ')
  if (unit === 'share') return SHARE.format(value)
  if (unit === 'minor')
    return new Intl.NumberFormat('en-GB', { style: 'currency', currency }).format(value / 100)
  if (unit === '×') return `${FIGURE.format(value)} ×`
  return `${FIGURE.format(value)} ${unit}`.trimEnd()
}
