/** A place in a workspace. `permission` names what someone must be allowed for the place to be of any use. */
export type Place = {
  href: string
  label: string
  permission?: string
  /** What hangs below it counts as the place, unless only the page itself does. */
  isExact?: boolean
  /** Addresses that belong to it without lying below it. */
  also?: readonly string[]
}

/** What stands in the bar of a phone; the rest is behind "More". */
const BAR_PLACES = 4

export function listAllowedPlaces(places: readonly Place[], permissions: readonly string[]): Place[] {
  return places.filter((place) => place.permission === undefined || permissions.includes(place.permission))
}

/** A fifth place would cost the thumb as much room as "More" does, so five or fewer need no "More". */
export function splitForPhone(places: readonly Place[]): { bar: Place[]; more: Place[] } {
  if (places.length <= BAR_PLACES) return { bar: [...places], more: [] }
  return { bar: places.slice(0, BAR_PLACES), more: places.slice(BAR_PLACES) }
}

/** The place itself and whatever hangs below it: a clutch is under "Clutches". */
export function isCurrentPlace(place: Place, pathname: string, places: readonly Place[]): boolean {
  const holds = (href: string) => pathname === href || pathname.startsWith(`${href}/`)
  if (place.also?.some(holds)) return true
  if (place.isExact ? pathname !== place.href : !holds(place.href)) return false
  return !places.some((other) => other.href.length > place.href.length && holds(other.href))
}
