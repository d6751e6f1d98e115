import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import type { CareProfile } from '@/lib/domain/care-profile/profile'

/** The default profile of a species by its slug. */
export function profileOf(slug: string): CareProfile {
  const found = DEFAULT_PROFILES.find((entry) => entry.slug === slug)
  if (!found) throw new Error(`no such species: ${slug}`)
  return found.profile
}

/** One steady temperature, for ever. */
export function steady(dayC: number, nightC?: number) {
  return [{ from: '2020-01-01', until: null, dayC, nightC }]
}
