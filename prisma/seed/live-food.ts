import { weekdayOf } from '@/lib/domain/calendar/date'
import { emergenceCurve } from '@/lib/domain/culture/emergence'
import { cultureCode } from '@/lib/domain/label/code'
import { findPreyLine } from '@/lib/domain/prey/default-lines'
import { changeFigure } from '@/lib/domain/prey/figure'
import type { PreyLine } from '@/lib/domain/prey/line'
import { invariant } from '@/lib/platform/errors'
import { createSeedStream } from './stream'
import { requireZoneEntry, stamp, stampId, type Workbook } from './workbook'

/** A line as it was kept: so many jars every so many days, until somebody had no time for it. */
type LineStory = {
  slug: string
  everyDays: number
  jars: number
  /** Of a jar that does not crash, flies; the room does better or worse than the trade. */
  mean: number
  lateDays: number
  discardAfterDays: number
  lastStartDay: number
}

const FIRST_DAY = -161
const ZONE = 'Side room'
/** Each line has boards of its own, so that mites found in one stay with it. */
const BOARDS: Record<string, string[]> = {
  melanogaster: ['A', 'B', 'C', 'D', 'E', 'F'],
  hydei: ['G', 'H', 'I'],
}

// In order, but for hydei: a start was left out a week ago, and it is missing in three weeks, when a big hatch wants it.
const LINES: LineStory[] = [
  {
    slug: 'melanogaster',
    everyDays: 7,
    jars: 32,
    mean: 640,
    lateDays: 1,
    discardAfterDays: 35,
    lastStartDay: -7,
  },
  { slug: 'hydei', everyDays: 7, jars: 15, mean: 320, lateDays: 0, discardAfterDays: 45, lastStartDay: -14 },
]
const CRASH_CHANCE = 0.07
const HARVEST_EVERY_DAYS = 3
/** Found among the hydei on a Sunday. */
const MITES = { slug: 'hydei', ageDays: 25, foundDay: -5 }

/** Five months on the fly shelf, from a stream of its own, so that nothing else of the story changes with it. */
export function writeLiveFood(book: Workbook, keepers: readonly string[], seed: number): void {
  const own = { ...book, stream: createSeedStream(seed) }
  const kept: Jar[] = []
  for (const story of LINES) {
    own.rows.preyLine.push(lineRow(own, story.slug))
    writeLine(own, story, { kept, keepers })
  }
  markMites(own, kept)
  writeCounts(own, keepers)
  writeOrders(own)
  writeBounds(own)
}

type Jar = { slug: string; startDay: number; row: Workbook['rows']['culture'][number]; end: number | null }

function lineRow({ workspaceId, dateOf }: Workbook, slug: string) {
  return { workspaceId, slug, kept: true, createdAt: dateOf(FIRST_DAY) }
}

type Shelf = { kept: Jar[]; keepers: readonly string[] }

function writeLine(book: Workbook, story: LineStory, shelf: Shelf): void {
  const line = findPreyLine(story.slug)
  invariant(line?.supply.kind === 'culture', `${story.slug} is cultured`)
  const zone = requireZoneEntry(book, ZONE)
  const point = zone.story.setPoints[0]
  invariant(point, 'the fly shelf has a temperature')
  const temperatureC = (point.dayC + (point.nightC ?? point.dayC)) / 2
  const curve = emergenceCurve(line.supply.curve.value, { temperatureC, days: 80 })
  const boards = BOARDS[story.slug] ?? ['']
  let batch = 0
  for (let day = story.lastStartDay; day >= FIRST_DAY; day -= story.everyDays) batch += 1
  for (let turn = 0; turn < batch; turn += 1) {
    const startDay = story.lastStartDay - (batch - 1 - turn) * story.everyDays
    const board = boards[turn % boards.length] ?? ''
    for (let number = 0; number < story.jars; number += 1)
      writeJar(book, story, { ...shelf, startDay, board, curve, zoneId: zone.id })
  }
}

type JarStory = Shelf & { startDay: number; board: string; curve: readonly number[]; zoneId: string }

function writeJar(book: Workbook, story: LineStory, jar: JarStory): void {
  const { startDay, kept, keepers, curve } = jar
  const hasCrashed = book.stream.chance(CRASH_CHANCE)
  const spread = Math.exp(0.28 * book.stream.normal() - 0.04)
  const total = hasCrashed ? 0.1 * story.mean : story.mean * spread
  const late = story.lateDays + Math.round(0.8 * book.stream.normal())
  const end = startDay + story.discardAfterDays
  const crashDay = hasCrashed && startDay + 21 <= 0 ? startDay + 21 : null
  const source = findSource(kept, { slug: story.slug, startDay })
  const row = {
    ...stamp(book, startDay),
    label: cultureCode(book.rows.culture.length + 1),
    slug: story.slug,
    zoneId: jar.zoneId,
    shelf: jar.board,
    startedOn: book.dateOf(startDay),
    startersFrom: source ? String(source.row.id) : null,
    bought: source === null,
    crashedOn: crashDay === null ? null : book.dateOf(crashDay),
    endedOn: end < 0 ? book.dateOf(end) : null,
    end: end < 0 ? ('discarded' as const) : null,
  }
  book.rows.culture.push(row)
  kept.push({ slug: story.slug, startDay, row, end: end < 0 ? end : null })
  for (let age = 8; age < story.discardAfterDays && startDay + age < 0; age += HARVEST_EVERY_DAYS) {
    const days = Array.from({ length: HARVEST_EVERY_DAYS }, (_, back) => curve[age - back - late] ?? 0)
    const flies = total * days.reduce((sum, share) => sum + share, 0) * Math.exp(0.1 * book.stream.normal())
    const count = flies < 40 ? Math.round(flies) : Math.round(flies / 5) * 5
    if (count < 4) continue
    book.rows.harvest.push({
      ...stamp(book, startDay + age),
      cultureId: row.id,
      on: book.dateOf(startDay + age),
      count,
      measure: book.stream.chance(0.1) ? 'counted' : 'about',
      harvestedBy: book.stream.pick(keepers),
    })
  }
}

/** Starters come from a jar that gives well: two to four weeks old. The first ones were bought. */
function findSource(kept: readonly Jar[], at: { slug: string; startDay: number }): Jar | null {
  return (
    kept.findLast(
      ({ slug, startDay, row }) =>
        slug === at.slug && at.startDay - startDay >= 18 && at.startDay - startDay <= 32 && !row.crashedOn,
    ) ?? null
  )
}

function markMites(book: Workbook, kept: readonly Jar[]): void {
  const jar = kept.findLast(
    ({ slug, startDay, end }) =>
      slug === MITES.slug && end === null && MITES.foundDay - startDay >= MITES.ageDays,
  )
  if (jar) jar.row.mitesOn = book.dateOf(MITES.foundDay)
}

/** Flies out of the jars in the cups beside them, on the evening before. */
const IN_CUPS = [
  { slug: 'melanogaster', count: 3200 },
  { slug: 'hydei', count: 1500 },
]

function writeCounts(book: Workbook, keepers: readonly string[]): void {
  for (const cups of IN_CUPS)
    book.rows.preyCount.push({
      ...stamp(book, -1),
      ...cups,
      on: book.dateOf(-1),
      countedBy: book.stream.pick(keepers),
    })
}

const TUESDAY = 2

/** Pupae of last week, and on their way: enough for a fortnight, nothing ordered for after it. */
const ORDERS = [
  { slug: 'house-fly', packs: 3, packSize: 250, dueDay: -5 },
  { slug: 'green-bottle', packs: 4, packSize: 200, dueDay: -5 },
  { slug: 'blue-bottle', packs: 1, packSize: 200, dueDay: 2 },
  { slug: 'house-fly', packs: 2, packSize: 250, dueDay: 0 },
  { slug: 'house-fly', packs: 2, packSize: 250, dueDay: 7 },
  { slug: 'green-bottle', packs: 4, packSize: 200, dueDay: 0 },
  { slug: 'green-bottle', packs: 5, packSize: 200, dueDay: 7 },
]

function writeOrder(book: Workbook, { slug, packs, packSize, dueDay }: (typeof ORDERS)[number]): void {
  const orderDay = Math.min(-1, dueDay - 3)
  book.rows.preyOrder.push({
    ...stamp(book, orderDay),
    slug,
    packs,
    packSize,
    orderedOn: book.dateOf(orderDay),
    dueOn: book.dateOf(dueDay),
    arrivedOn: dueDay < 0 ? book.dateOf(dueDay) : null,
    costMinor: packs * 450,
  })
}

/** Bottle fly pupae are taken on Tuesdays only, and one of those is a holiday of the supplier. */
function writeOrders(book: Workbook): void {
  const { workspaceId } = book
  const line = findPreyLine('blue-bottle')
  invariant(line, 'there are blue bottles')
  const note = 'The supplier packs on Tuesdays.'
  const changed = changeFigure(line, { path: 'supply.orderWeekdays', value: [TUESDAY], note })
  invariant(changed.status === 'ok', 'order days can be changed')
  book.rows.preyLine.push(lineRow(book, line.id))
  book.rows.preyLineVersion.push({
    workspaceId,
    slug: line.id,
    number: 1,
    content: JSON.parse(JSON.stringify(changed.line satisfies PreyLine)),
    createdAt: book.dateOf(-90),
  })
  for (const slug of ['house-fly', 'green-bottle']) book.rows.preyLine.push(lineRow(book, slug))
  for (const order of ORDERS) writeOrder(book, order)
  const closed = [10, 11, 12, 13, 14, 15, 16].find((day) => weekdayOf(book.plainOf(day)) === TUESDAY) ?? 10
  book.rows.foodClosedDay.push({
    workspaceId,
    side: 'supplier',
    on: book.dateOf(closed),
    closed: true,
    note: 'stocktaking',
  })
}

function writeBounds(book: Workbook): void {
  const { workspaceId } = book
  const mouth = (name: string, slug: string, eats: { items: number; weekdays: number[] }) => ({
    ...stampId(book, -200),
    name,
    slug,
    itemsEachTime: eats.items,
    weekdays: eats.weekdays,
    createdAt: book.dateOf(-200),
  })
  book.rows.otherMouth.push(
    mouth('Tree frogs next door', 'hydei', { items: 40, weekdays: [2, 5] }),
    mouth('Friday boxes for two customers', 'melanogaster', { items: 150, weekdays: [5] }),
  )
  book.rows.foodLimits.push({
    workspaceId,
    shelfPlaces: 320,
    minutesPerStartDay: 360,
    startWeekdays: [6],
    serviceLevel: 0.95,
  })
}
