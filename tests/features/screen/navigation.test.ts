import { describe, expect, it } from 'vitest'
import { isCurrentPlace, listAllowedPlaces, splitForPhone } from '@/components/shell/navigation'
import { getTheme } from '@/components/theme/theme'

const places = [
  { href: '/w/larch-lane', label: 'Day sheet' },
  { href: '/w/larch-lane/clutches', label: 'Clutches' },
  { href: '/w/larch-lane/sales', label: 'Sales', permission: 'sale.read' },
]

describe('the way through a workspace', () => {
  it('marks one place as the current one: the most exact', () => {
    const current = (pathname: string) => places.filter((place) => isCurrentPlace(place, pathname, places))
    expect(current('/w/larch-lane').map((place) => place.label)).toEqual(['Day sheet'])
    expect(current('/w/larch-lane/clutches/1').map((place) => place.label)).toEqual(['Clutches'])
    expect(current('/w/larch-lane/clutches-old').map((place) => place.label)).toEqual(['Day sheet'])
    expect(current('/sign-in')).toEqual([])
  })

  it('shows a keeper no place that the role has no use for', () => {
    expect(listAllowedPlaces(places, []).map((place) => place.label)).toEqual(['Day sheet', 'Clutches'])
    expect(listAllowedPlaces(places, ['sale.read'])).toHaveLength(3)
  })

  it('keeps four places under the thumb and loses none', () => {
    const many = Array.from({ length: 9 }, (_, number) => ({ href: `/${number}`, label: String(number) }))
    const { bar, more } = splitForPhone(many)
    expect(bar).toHaveLength(4)
    expect([...bar, ...more]).toEqual(many)
  })

  it('takes any other word in the cookie as no choice of light', () => {
    expect(getTheme('night')).toBe('night')
    expect(getTheme('"><script>')).toBeUndefined()
    expect(getTheme(undefined)).toBeUndefined()
  })
})
