import { wallClock } from '@/lib/domain/calendar/instant'
import { summariseDay } from '@/lib/domain/zone/measured-day'
import { invariant } from '@/lib/platform/errors'
import { createSeedStream, type SeedStream } from './stream'
import { stamp, type Workbook } from './workbook'

const HOUR_MS = 3_600_000
/** Every three hours over the year, hourly in the last fortnight: enough that no day has a gap by itself. */
const FIRST_DAY = -364
const FINE_FROM_DAY = -14
const COARSE_HOURS = 3
/** When the demo's last reading was taken, UTC: on the evening before, or a demo begun at night had readings to come. */
const LAST_DAY = -1
const LAST_HOUR = 21

export type ClimateStory = {
  /** Whole days on which nothing was read: a battery, a holiday. */
  gaps: readonly { from: number; until: number }[]
  /** An afternoon on which the shelf got too warm, at its hour (UTC) and by how much. */
  heat?: { day: number; hour: number; hours: number; byC: number }
}

export const CLIMATE_STORIES: Record<string, ClimateStory> = {
  'Warm shelf': {
    gaps: [{ from: -223, until: -218 }],
    heat: { day: -24, hour: 13, hours: 6, byC: 7.5 },
  },
  'Side room': {
    gaps: [
      { from: -301, until: -287 },
      { from: -47, until: -44 },
    ],
  },
  'Shop shelf': { gaps: [{ from: -129, until: -127 }] },
}

type Read = { at: Date; temperatureC: number; humidityPct: number }

/** A year of readings in every zone, from a stream of its own, so that nothing else of the story changes with it. */
export function writeClimate(book: Workbook, timeZone: string, seed: number): void {
  const stream = createSeedStream(seed)
  for (const [name, { id }] of book.zones) {
    const story = CLIMATE_STORIES[name]
    if (!story) continue
    const reads = drawReadings(book, name, stream)
    writeReadings({ ...book, stream }, id, reads)
    writeDays(book, id, { reads, timeZone })
  }
}

function drawReadings(book: Workbook, name: string, stream: SeedStream): Read[] {
  const story = CLIMATE_STORIES[name] ?? { gaps: [] }
  const reads: Read[] = []
  let weatherC = 0
  for (let day = FIRST_DAY; day <= LAST_DAY; day++) {
    weatherC = 0.85 * weatherC + 0.28 * stream.normal()
    const every = day < FINE_FROM_DAY ? COARSE_HOURS : 1
    const isGap = story.gaps.some(({ from, until }) => from <= day && day < until)
    for (let hour = 0; hour < (day === LAST_DAY ? LAST_HOUR + 1 : 24); hour += every) {
      const noiseC = 0.15 * stream.normal()
      if (isGap) continue
      const heatC = heatOf(story, day, hour)
      const temperatureC = setAt(book, name, { day, hour }) + weatherC + noiseC + heatC
      reads.push({
        at: new Date(book.dateOf(day).getTime() + hour * HOUR_MS),
        temperatureC: Math.round(temperatureC * 10) / 10,
        humidityPct: Math.round(62 - 1.5 * weatherC - 2 * heatC + 2 * stream.normal()),
      })
    }
  }
  return reads
}

/** What the zone is set to at an hour, gliding from night to day and back as a heated shelf does. */
function setAt(book: Workbook, name: string, { day, hour }: { day: number; hour: number }): number {
  const points = book.zones.get(name)?.story.setPoints ?? []
  const point = points.findLast((candidate) => candidate.day <= day) ?? points[0]
  invariant(point, 'a zone has a set point')
  const nightC = point.nightC ?? point.dayC
  const warmth = 0.5 - 0.5 * Math.cos(((hour - 1) / 24) * 2 * Math.PI)
  return nightC + (point.dayC - nightC) * warmth
}

function heatOf({ heat }: ClimateStory, day: number, hour: number): number {
  if (!heat || heat.day !== day || hour < heat.hour || hour >= heat.hour + heat.hours) return 0
  return heat.byC
}

/** The readings, in one batch a month as a sensor's memory was emptied, hourly ones as they came. */
function writeReadings(book: Workbook, zoneId: string, reads: readonly Read[]): void {
  const months = groupBy(reads, ({ at }) => at.toISOString().slice(0, 7))
  for (const entries of months.values()) {
    const [first, last] = [entries[0], entries.at(-1)]
    if (!first || !last) continue
    const batch = stamp(book, 0)
    const batchId = batch.id
    const { workspaceId } = book
    book.rows.readingBatch.push({
      ...{ workspaceId, id: batchId, zoneId, source: 'sensor', readings: entries.length },
      ...{ fromAt: first.at, untilAt: last.at, createdAt: last.at },
    })
    book.rows.reading.push(...entries.map((read) => ({ workspaceId, zoneId, batchId, ...read })))
  }
}

/** The same days summed up, as they are when readings arrive. */
function writeDays(
  book: Workbook,
  zoneId: string,
  { reads, timeZone }: { reads: readonly Read[]; timeZone: string },
): void {
  const local = reads.map((read) => ({ ...read, ...wallClock(read.at.getTime(), timeZone) }))
  for (const [on, entries] of groupBy(local, (read) => read.on)) {
    const hoursC: (number | null)[] = Array.from({ length: 24 }, () => null)
    for (const [hour, inHour] of groupBy(entries, ({ time }) => Number(time.slice(0, 2))))
      hoursC[hour] = mean(inHour.map(({ temperatureC }) => temperatureC))
    const temperaturesC = entries.map(({ temperatureC }) => temperatureC)
    const extremes = { minC: Math.min(...temperaturesC), maxC: Math.max(...temperaturesC) }
    book.rows.zoneDay.push({
      ...{ workspaceId: book.workspaceId, zoneId, on: new Date(`${on}T00:00:00.000Z`) },
      ...{
        readings: entries.length,
        hoursC,
        humidityPct: mean(entries.map(({ humidityPct }) => humidityPct)),
      },
      ...summariseDay(hoursC, extremes),
    })
  }
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function groupBy<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>()
  for (const item of items) {
    const key = keyOf(item)
    const group = groups.get(key)
    if (group) group.push(item)
    else groups.set(key, [item])
  }
  return groups
}
