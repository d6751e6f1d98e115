import { dayNumber } from '../calendar/date'
import type { RoomSeries } from './forecast'
import { clutchKnowledge, clutchParameters } from './grouping'
import { GUESSES } from './guess'
import type { PlannedSale, RoomInput, RoomSpecies, RoomZone } from './input'
import { ADULT, type PartGrid, playPart, STAGES } from './part-play'

/** The calendar on the clock of a species in a zone; see `PlaceTime`. */
export type SaleClock = (species: RoomSpecies, zone: RoomZone) => PartGrid & { stepOfDay: number[] }

/**
 * Takes planned sales out of a forecast. An animal sold is one of its stage, at any point of it; what is
 * missing from the day of the sale on is what would have become of it. More than are expected cannot leave.
 * One course is played per stage sold from, then O(sales × stages × days).
 */
export function withoutSales(series: readonly RoomSeries[], room: RoomInput, clock: SaleClock): RoomSeries[] {
  const left = series.map((one) => ({ ...one, mean: [...one.mean], variance: [...one.variance] }))
  const futures = new Map<string, number[][]>()
  const inOrder = [...room.sales].sort((a, b) => dayNumber(a.on) - dayNumber(b.on) || rankOf(a) - rankOf(b))
  for (const sale of inOrder) {
    const day = dayNumber(sale.on) - dayNumber(room.today)
    const stages = left.filter(({ speciesId, sex }) => speciesId === sale.speciesId && sex === sale.sex)
    const own = stages.find(({ moults }) => moults === (sale.isAdult ? null : sale.moults))
    const species = room.species.find(({ id }) => id === sale.speciesId)
    const zone = zoneOf(room, sale.speciesId)
    if (!own || !species || !zone || day < 0 || day >= own.mean.length) continue
    const count = Math.min(sale.count, own.mean[day]!)
    const time = clock(species, zone)
    const key = `${sale.speciesId}|${sale.sex}|${rankOf(sale)}`
    const future = futures.get(key) ?? futureOfSold(sale, { species, zone, time })
    futures.set(key, future)
    for (const stage of stages) takeFrom(stage, { count, day, time, future: future[stage.moults ?? ADULT]! })
  }
  return left
}

function rankOf(sale: PlannedSale): number {
  return sale.isAdult ? ADULT : sale.moults
}

/** Where most of the species stands; its animals are sold from there. */
function zoneOf(room: RoomInput, speciesId: string): RoomZone | undefined {
  const counts = new Map<string, number>()
  for (const animal of room.animals)
    if (animal.speciesId === speciesId)
      counts.set(animal.zoneId, (counts.get(animal.zoneId) ?? 0) + (animal.count ?? 1))
  for (const group of room.groups)
    if (group.speciesId === speciesId) counts.set(group.zoneId, (counts.get(group.zoneId) ?? 0) + group.count)
  const most = [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0]
  return room.zones.find(({ id }) => id === most) ?? room.zones[0]
}

/** Expected whereabouts, by stage and step, of one animal sold. */
function futureOfSold(
  sale: PlannedSale,
  { species, zone, time }: { species: RoomSpecies; zone: RoomZone; time: PartGrid },
): number[][] {
  const known = clutchKnowledge(clutchParameters(species, null))
  const one = { moults: sale.moults, isAdult: sale.isAdult, hasWingBuds: false, spent: null, count: 1 }
  const part = {
    key: 'sold',
    species,
    zone,
    sex: sale.sex,
    ...known,
    beginnings: [one],
    groups: [],
    clutchShare: 0,
  }
  const { means } = playPart(part, time)
  return Array.from({ length: STAGES }, (_, stage) =>
    Array.from({ length: time.steps }, (_, step) =>
      GUESSES.reduce((sum, { weight }, guess) => sum + weight * means[guess]![stage]![step]!, 0),
    ),
  )
}

function takeFrom(
  stage: RoomSeries,
  sold: { count: number; day: number; time: { stepOfDay: number[] }; future: number[] },
): void {
  const begun = sold.time.stepOfDay[sold.day]!
  for (let day = sold.day; day < stage.mean.length; day += 1) {
    const present = stage.mean[day]!
    if (present <= 0) continue
    const step = Math.round(sold.time.stepOfDay[day]! - begun)
    const gone = Math.min(present, sold.count * (sold.future[step] ?? 0))
    stage.mean[day] = present - gone
    stage.variance[day]! *= 1 - gone / present
  }
}
