import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { EntryState } from '../head-count/head-count'
import { formatCode } from '../label/code'

export type Whereabouts = { label: string; whereabouts: EntryState; whereaboutsSince: PlainDate | null }

const WORDS: Record<EntryState, string> = {
  uncounted: 'is not counted in yet',
  together: 'is still with its siblings',
  single: 'is here',
  sold: 'was sold',
  given_away: 'was given away',
  dead: 'is recorded as dead',
  escaped: 'is recorded as escaped',
  unaccounted: 'is unaccounted for',
}

/** "K7Q 97 was sold (3 Nov)": where an animal is, and since when. */
export function whereaboutsSentence(animal: Whereabouts, today: PlainDate): string {
  const since = animal.whereaboutsSince ? ` (${writeDay(animal.whereaboutsSince, today)})` : ''
  return `${formatCode(animal.label)} ${WORDS[animal.whereabouts]}${since}.`
}

/** Entries of several clutches are written clutch by clutch, so that two people's counts never cross. */
export function inLedgerOrder<A extends { id: string; clutchId: string | null }>(animals: readonly A[]): A[] {
  const key = (animal: A) => `${animal.clutchId ?? ''} ${animal.id}`
  return [...animals].sort((a, b) => (key(a) < key(b) ? -1 : 1))
}
