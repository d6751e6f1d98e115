import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import type { Place } from './stock'

/** A profile that the forecasts can work with, of animals that may live together. */
export function markProfile(mark: string): unknown {
  const profile = DEFAULT_PROFILES[0]?.profile
  const allowsColony = { value: true, source: { kind: 'own', note: mark } }
  return { ...profile, separation: { ...profile?.separation, allowsColony }, mark }
}

type ColonyPlace = {
  species_id: string
  zone_id: string
  container_kind_id: string
  mark: string
  personId: string
}

/** A colony that stands empty, counted once. */
export async function placeColony(place: Place, colony: ColonyPlace): Promise<void> {
  const { species_id, zone_id, container_kind_id, mark, personId } = colony
  const container_id = await place('container', { container_kind_id, single: false })
  const where = { species_id, container_id, zone_id, opened_on: '2026-02-01' }
  const colony_id = await place('colony', { ...where, name: `${mark} cage`, notes: mark })
  const line = { on: '2026-03-01', sex: 'unsexed', moults: 2, animals: 3, counted_by: personId }
  await place('colony_count', { colony_id, ...line })
}
