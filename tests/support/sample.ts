import { seededStream } from '@/lib/domain/random/seeded'

/** What this run's choices hang on; `npm test` draws and prints it. */
export const SEED = process.env.TEST_SEED ?? '1'
export const isLong = Boolean(process.env.TEST_LONG)

/** So many of them, drawn by the seed of the run and kept in their order; all of them in a long run. */
export function sampleOf<T>(name: string, all: readonly T[], count: number): T[] {
  if (isLong) return [...all]
  const chosen = new Set(
    seededStream(`${name} ${SEED}`)
      .shuffle([...all.keys()])
      .slice(0, count),
  )
  return all.filter((_, index) => chosen.has(index))
}
