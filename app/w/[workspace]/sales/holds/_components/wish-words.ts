import type { ReservationsPage } from '@/lib/features/reservation/loaders'

type Wish = ReservationsPage['wishes'][number]

export const WISH_STATES = { likely: 'fine', possible: 'due', unlikely: 'late' } as const

/** "three ♀ 4th instar": how many, of which sex, in which stage. */
export function sayWish({ count, sex, stage }: Pick<Wish, 'count' | 'sex' | 'stage'>): string {
  const mark = sex === 'female' ? '♀ female' : sex === 'male' ? '♂ male' : ''
  return [String(count), mark, stage].filter(Boolean).join(' ')
}
