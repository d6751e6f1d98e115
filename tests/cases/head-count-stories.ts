import type { HeadCount, HeadCountEntry } from '@/lib/domain/head-count/head-count'

/** Evenings at the bench as entries, with the count they must end in. */
export type HeadCountStory = { name: string; entries: HeadCountEntry[]; ends: Partial<HeadCount> }

export const HEAD_COUNT_STORIES: HeadCountStory[] = [
  {
    name: 'a clutch of 64 is cupped but for two dead and one escaped',
    entries: [
      { from: 'uncounted', to: 'together', count: 64 },
      { from: 'together', to: 'dead', count: 2 },
      { from: 'together', to: 'escaped', count: 1 },
      { from: 'together', to: 'single', count: 61 },
    ],
    ends: { hatched: 64, together: 0, single: 61, dead: 2, escaped: 1 },
  },
  {
    name: 'an "about 40" turns out to be 43 because the bench never refuses a cup',
    entries: [
      { from: 'uncounted', to: 'together', count: 40 },
      { from: 'together', to: 'single', count: 40 },
      { from: 'uncounted', to: 'single', count: 3 },
    ],
    ends: { hatched: 43, together: 0, single: 43 },
  },
  {
    name: 'a correction downwards is not a loss',
    entries: [
      { from: 'uncounted', to: 'together', count: 100 },
      { from: 'together', to: 'uncounted', count: 12 },
    ],
    ends: { hatched: 88, together: 88, dead: 0, unaccounted: 0 },
  },
  {
    name: 'a mis-tapped death is reversed',
    entries: [
      { from: 'uncounted', to: 'together', count: 10 },
      { from: 'together', to: 'dead', count: 1 },
      { from: 'dead', to: 'together', count: 1, isReversal: true },
    ],
    ends: { hatched: 10, together: 10, dead: 0 },
  },
  {
    name: 'late separation shows as unaccounted after a recount, and one of them is found again',
    entries: [
      { from: 'uncounted', to: 'together', count: 30 },
      { from: 'together', to: 'unaccounted', count: 7 },
      { from: 'unaccounted', to: 'single', count: 1 },
    ],
    ends: { hatched: 30, together: 23, unaccounted: 6, single: 1 },
  },
  {
    name: 'a recount that finds more than the entries explain goes below zero and still sums',
    entries: [
      { from: 'uncounted', to: 'together', count: 5 },
      { from: 'unaccounted', to: 'together', count: 2 },
    ],
    ends: { hatched: 5, together: 7, unaccounted: -2 },
  },
  {
    name: 'a sold animal comes back to the shop',
    entries: [
      { from: 'uncounted', to: 'together', count: 3 },
      { from: 'together', to: 'single', count: 3 },
      { from: 'single', to: 'sold', count: 2 },
      { from: 'sold', to: 'single', count: 1 },
    ],
    ends: { hatched: 3, single: 2, sold: 1 },
  },
]
