import { seededStream } from '@/lib/domain/random/seeded'

/** Everything the demo draws comes from one of these, so the same seed and anchor day make the same rows. */
export type SeedStream = {
  uniform: () => number
  normal: () => number
  chance: (probability: number) => boolean
  pick: <T>(choices: readonly T[]) => T
  /** A time-ordered id (RFC 9562, version 7) that belongs to an instant. */
  uuid: (at: Date) => string
}

export function createSeedStream(seed: number): SeedStream {
  const stream = seededStream(seed)
  const uniform = () => stream.uniform()
  return {
    uniform,
    normal: () => stream.normal(0, 1),
    chance: stream.chance,
    pick: stream.pick,
    uuid: (at) => uuidOf(at, uniform),
  }
}

function uuidOf(at: Date, uniform: () => number): string {
  const time = at.getTime().toString(16).padStart(12, '0')
  const hex = Array.from({ length: 19 }, () => Math.floor(uniform() * 16).toString(16)).join('')
  const variant = '89ab'[Math.floor(uniform() * 4)]
  return `${time.slice(0, 8)}-${time.slice(8)}-7${hex.slice(0, 3)}-${variant}${hex.slice(3, 6)}-${hex.slice(6, 18)}`
}
