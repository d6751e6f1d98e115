import { dateOfDay, dayNumber, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { dailyRate, thresholdsOf } from '@/lib/domain/development/clock'
import { invariant } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { WorkspaceId } from '@/lib/platform/workspace'
import { emptyRows, type Rows } from './rows'
import type { KindStory, ZoneStory } from './scenario'
import type { SeedStream } from './stream'

export type SpeciesEntry = { id: string; slug: string; scientificName: string; profile: CareProfile }

/** One workspace while its story is written down: its rows so far, and how to name days, ids and places. */
export type Workbook = {
  workspaceId: WorkspaceId
  labelKey: string
  stream: SeedStream
  rows: Rows
  species: Map<string, SpeciesEntry>
  zones: Map<string, { id: string; story: ZoneStory }>
  kinds: { id: string; story: KindStory }[]
  numbers: { individual: number; clutch: number; eggCase: number; receipt: number }
  dateOf: (day: number) => Date
  plainOf: (day: number) => PlainDate
}

type WorkbookStart = Pick<Workbook, 'workspaceId' | 'labelKey' | 'stream' | 'species'> & {
  anchorOn: PlainDate
}

export function openWorkbook({ anchorOn, ...start }: WorkbookStart): Workbook {
  const anchor = dayNumber(anchorOn)
  const plainOf = (day: number) => dateOfDay(anchor + day)
  return {
    ...start,
    rows: emptyRows(),
    zones: new Map(),
    kinds: [],
    numbers: { individual: 0, clutch: 0, eggCase: 0, receipt: 0 },
    plainOf,
    dateOf: (day) => fromPlainDate(plainOf(day)),
  }
}

/** An id and a creation time that belong to a day of the story. */
export function stamp(book: Workbook, day: number): { workspaceId: string; id: string; createdAt: Date } {
  const createdAt = new Date(
    book.dateOf(day).getTime() + 17 * 3_600_000 + Math.floor(book.stream.uniform() * 7_200_000),
  )
  return { workspaceId: book.workspaceId, id: book.stream.uuid(createdAt), createdAt }
}

/** The same without a creation time, for tables that have none. */
export function stampId(book: Workbook, day: number): { workspaceId: string; id: string } {
  const { workspaceId, id } = stamp(book, day)
  return { workspaceId, id }
}

export function furnish(book: Workbook, zones: ZoneStory[], kinds: KindStory[]): void {
  for (const [index, story] of zones.entries()) {
    const zone = stamp(book, -400)
    const { name, quarantine } = story
    book.rows.zone.push({
      ...{ ...zone, name, walkingOrder: index + 1 },
      quarantineUntil: quarantine ? book.dateOf(quarantine.untilDay) : null,
      quarantineReason: quarantine?.reason ?? '',
    })
    for (const { day, dayC, nightC } of story.setPoints)
      book.rows.zoneSetPoint.push({
        workspaceId: book.workspaceId,
        zoneId: zone.id,
        fromOn: book.dateOf(day),
        dayC,
        nightC,
        createdAt: book.dateOf(day),
      })
    book.zones.set(story.name, { id: zone.id, story })
  }
  for (const story of kinds) {
    const kind = stamp(book, -400)
    book.rows.containerKind.push({ ...kind, ...story })
    book.kinds.push({ id: kind.id, story })
  }
}

export function requireSpeciesEntry(book: Workbook, slug: string): SpeciesEntry {
  const entry = book.species.get(slug)
  invariant(entry, `the demo knows the species ${slug}`)
  return entry
}

export function requireZoneEntry(book: Workbook, name: string) {
  const zone = book.zones.get(name)
  invariant(zone, `the demo knows the zone ${name}`)
  return zone
}

/** How many effective days each day of the story brings to a species in a zone. */
export function rateInZone(book: Workbook, zoneName: string, profile: CareProfile): (day: number) => number {
  const { setPoints } = requireZoneEntry(book, zoneName).story
  const thresholds = thresholdsOf(profile)
  return (day) => {
    const point = setPoints.findLast((candidate) => candidate.day <= day) ?? setPoints[0]
    invariant(point, 'a zone has a set point')
    return dailyRate(point, thresholds)
  }
}
