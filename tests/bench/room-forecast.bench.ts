import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import { seededStream } from '@/lib/domain/random/seeded'
import { forecastRoom } from '@/lib/domain/room-forecast/forecast'
import type { RoomAnimal, RoomInput } from '@/lib/domain/room-forecast/input'
import { printTable } from '../support/print-table'

/**
 * Does the room forecast take about as long for a hundred thousand animals as for a thousand, and how much of
 * it is left to do after one moult? Ratios of times within one run; the animals are of the same kinds.
 */
const TODAY = '2026-11-01'
const DAYS = 26 * 7
const SPECIES = DEFAULT_PROFILES.slice(0, 4)
const SIZES = [1000, 10_000, 100_000]
const ROUNDS = 3

function roomOf(count: number): RoomInput {
  const stream = seededStream('room')
  const sexes = ['male', 'female', 'unsexed'] as const
  const zones = [23, 26, 29].map((dayC, index) => ({
    id: `zone ${index}`,
    history: [{ from: '2026-01-01', until: null, dayC, nightC: dayC - 3 }],
  }))
  const animals: RoomAnimal[] = Array.from({ length: count }, (_, index) => {
    const { slug, profile } = stream.pick(SPECIES)
    const moults = stream.integer(0, 6)
    const sex = moults < 3 ? 'unsexed' : stream.pick(sexes)
    const isAdult = moults === 6 && stream.chance(0.5)
    const length = medianInstarDays(profile, { sex: 'female', totalMoults: 7 }, moults)
    return {
      speciesId: slug,
      zoneId: stream.pick(zones).id,
      clutchId: `${slug} ${index % Math.ceil(count / 60)}`,
      sex,
      moults,
      isAdult,
      spentEffectiveDays: stream.uniform() * (isAdult ? 90 : length),
    }
  })
  const species = SPECIES.map(({ slug, profile }) => ({ id: slug, profile }))
  const sales = SPECIES.slice(0, 3).map(({ slug }) => ({
    on: '2026-12-01',
    speciesId: slug,
    sex: 'unsexed' as const,
    moults: 2,
    isAdult: false,
    count: 10,
  }))
  const eggCases = SPECIES.map(({ slug, profile }, index) => ({
    speciesId: slug,
    zoneId: 'zone 1',
    hatch: { laid: { kind: 'known' as const, on: `2026-10-${10 + index}` } },
    nymphs: {
      mean: profile.hatch.nymphs.value.typical,
      variance: (profile.hatch.nymphs.value.typical / 2) ** 2,
    },
  }))
  return { today: TODAY, days: DAYS, species, zones, animals, groups: [], eggCases, sales }
}

export async function run(): Promise<void> {
  const rooms = SIZES.map(roomOf)
  // Once each beforehand, and then in turn, so that neither a cold start nor a busy machine decides.
  const times = rooms.map((room) => [timeOf(() => forecastRoom(room))].slice(1))
  for (let round = 0; round < ROUNDS; round += 1)
    rooms.forEach((room, index) => {
      times[index]!.push(timeOf(() => forecastRoom(room)))
    })
  const best = times.map((all) => Math.min(...all))
  const rows = SIZES.map((size, index) => [
    String(size),
    String(forecastRoom(rooms[index]!).parts.size),
    best[index]!.toFixed(0),
    (best[index]! / best[0]!).toFixed(2),
  ])
  printTable(
    `Room forecast over 26 weeks (floor: 100,000 animals at most 3.00 × 1,000)`,
    ['animals', 'parts', 'ms', '× 1,000'],
    rows,
  )
  printAfterMoult(rooms)
}

function printAfterMoult(rooms: readonly RoomInput[]): void {
  const rows = rooms.map((room) => {
    const before = forecastRoom(room)
    const moulted = {
      ...room,
      animals: room.animals.map((animal, index) => (index === 0 ? afterMoult(animal) : animal)),
    }
    const anew = Math.min(...Array.from({ length: 3 }, () => timeOf(() => forecastRoom(moulted))))
    const again = Math.min(...Array.from({ length: 3 }, () => timeOf(() => forecastRoom(moulted, before))))
    const after = forecastRoom(moulted, before)
    const played = [...after.parts].filter(([key, part]) => before.parts.get(key) !== part).length
    return [String(room.animals.length), String(played), again.toFixed(0), (again / anew).toFixed(2)]
  })
  printTable('After one moult', ['animals', 'parts played again', 'ms', '× from the beginning'], rows)
}

function afterMoult(animal: RoomAnimal): RoomAnimal {
  return { ...animal, moults: animal.moults + 1, isAdult: false, spentEffectiveDays: 0 }
}

function timeOf(work: () => void): number {
  const begun = performance.now()
  work()
  return performance.now() - begun
}
