import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { seededStream } from '@/lib/domain/random/seeded'
import { answersAt, type Scored, type Variant } from './recovery-run'
import { type PlayedRoom, playRoom } from './simulated-room'

/**
 * Some let all egg cases of a species hatch within two months, others take a hatch every few weeks through
 * most of the year. Where all hatch together, the first hundred moults are nearly all of one instar, and
 * what they say of the next is little.
 */
const SHORTEST_SEASON_DAYS = 60
const LONGEST_SEASON_DAYS = 270

/**
 * Rooms as different as those of breeders: species, zones, and how much of a clutch is kept in cups with a
 * record (a fifth to three fifths; the rest is sold young). With whole clutches on record a hundred moults
 * are those of one or two clutches, and nobody can know much about the next.
 */
export const SHIFTS = [1.2, 0.83, 1]
const SPECIES = [
  'creobroter-spp',
  'hierodula-spp',
  'tenodera-sinensis',
  'miomantis-spp',
  'phyllocrania-paradoxa',
  'hymenopus-coronatus',
  'sphodromantis-spp',
]
const ZONES = [[25.5], [24, 26], [23, 27], [26.5, 25]]

export function roomOf(seed: string, index: number, isWholeClutch = false): PlayedRoom {
  const stream = seededStream(`${seed}/plan ${index}`)
  const slug = stream.pick(SPECIES)
  const profile = DEFAULT_PROFILES.find((species) => species.slug === slug)!.profile
  const plan = {
    profile,
    speciesLog: Math.log(SHIFTS[index % SHIFTS.length]!),
    clutches: stream.integer(8, 12),
    zoneC: stream.pick(ZONES),
    recordedShare: isWholeClutch ? 1 : 0.2 + 0.4 * stream.uniform(),
    seasonDays: stream.integer(SHORTEST_SEASON_DAYS, LONGEST_SEASON_DAYS),
  }
  return playRoom(plan, `${seed}/room ${index}`)
}

/** Answers of every variant to the same questions in many rooms. */
export function answersInRooms(
  asked: { seed: string; rooms: number; count: number; questions: number; isWholeClutch?: boolean },
  variants: readonly Variant[],
): Map<string, Scored[]> {
  const all = new Map<string, Scored[]>(variants.map(({ name }) => [name, []]))
  for (let index = 0; index < asked.rooms; index += 1) {
    const room = roomOf(asked.seed, index, asked.isWholeClutch)
    const answers = answersAt(room, { ...asked, seed: `${asked.seed}/${index}` }, variants)
    if (!answers) continue
    for (const [name, scored] of answers) all.get(name)!.push(...scored)
  }
  return all
}
