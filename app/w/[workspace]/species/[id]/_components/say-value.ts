import type { ListedValue } from '@/lib/domain/care-profile/value-list'

const FIGURE = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 3 })
const SHARE = new Intl.NumberFormat('en-GB', { style: 'percent', maximumFractionDigits: 1 })

/** A value with its unit, as a person says it. */
export function sayValue({ value, unit }: Pick<ListedValue, 'value' | 'unit'>): string {
  if (value === null) return 'none'
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'string') return value.charAt(0).toUpperCase() + value.slice(1)
  if (unit === 'share') return SHARE.format(value)
  if (unit === '×') return `${FIGURE.format(value)} ×`
  if (unit === 'moults') return `${value} ${value === 1 ? 'moult' : 'moults'}`
  if (unit === 'days') return `${FIGURE.format(value)} ${value === 1 ? 'day' : 'days'}`
  return `${FIGURE.format(value)} ${unit}`.trimEnd()
}
