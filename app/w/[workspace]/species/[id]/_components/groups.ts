import type { ProfileGroup } from '@/lib/domain/care-profile/value-list'

/** The parts of a care profile in the order in which a keeper asks for them. */
export const GROUPS: { group: ProfileGroup; title: string }[] = [
  { group: 'keeping', title: 'Keeping' },
  { group: 'feeding', title: 'Feeding' },
  { group: 'housing', title: 'Housing' },
  { group: 'growth', title: 'Growth' },
  { group: 'hatch', title: 'Egg case and hatch' },
  { group: 'separation', title: 'Siblings' },
  { group: 'handling', title: 'Handling and sale' },
  { group: 'breeding', title: 'Breeding' },
  { group: 'dispatch', title: 'Dispatch' },
]
