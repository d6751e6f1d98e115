import { trayCode } from '@/lib/domain/label/code'
import { sharesByDay } from '@/lib/domain/separation/deadline'
import { invariant } from '@/lib/platform/errors'
import { writeClutch } from './breeder'
import { COLONY, TRAY } from './scenario'
import { createSeedStream } from './stream'
import { requireSpeciesEntry, requireZoneEntry, stamp, stampId, type Workbook } from './workbook'

/**
 * Animals that are kept as one: cups of a clutch that stay a tray, and two clutches that live together as their care
 * profile allows. Drawn from a stream of its own, so that nothing else of the story changes with it.
 */
export function writeCompany(book: Workbook, countedBy: string, seed: number): void {
  const own = { ...book, stream: createSeedStream(seed) }
  writeTray(own)
  writeColony(own, countedBy)
}

/** Cups of the last evening of the clutch that is named whose animals are still here. */
function writeTray(book: Workbook): void {
  const { rows, workspaceId } = book
  const clutch = rows.clutch.find(({ label }) => label === TRAY.clutch)
  invariant(clutch, `the demo knows the clutch ${TRAY.clutch}`)
  const run = rows.separation.findLast(({ clutchId }) => clutchId === clutch.id)
  const gone = new Set(
    rows.headCountEntry.flatMap(({ from, individualId }) => (from === 'single' ? [individualId] : [])),
  )
  const parted = new Set(
    rows.headCountEntry.flatMap((entry) => (entry.separationId === run?.id ? [entry.individualId] : [])),
  )
  const cups = rows.individual.filter(({ id }) => parted.has(id) && !gone.has(id)).slice(0, TRAY.cups)
  invariant(run && cups.length === TRAY.cups, 'so many cups of that evening are still here')
  const about = { label: trayCode(1), clutchId: String(clutch.id), on: run.on, createdAt: run.createdAt }
  const tray = { ...stampId(book, 0), ...about }
  rows.tray.push(tray)
  for (const cup of cups) cup.trayId = tray.id
  rows.counter.push({ workspaceId, name: 'tray', value: 1 })
}

function writeColony(book: Workbook, countedBy: string): void {
  const { rows, dateOf } = book
  const { openedDay, countedDay } = COLONY
  const kind = book.kinds.find(({ story }) => !story.single)
  invariant(kind, 'the demo has a container for several')
  const container = stamp(book, openedDay)
  const colony = stamp(book, openedDay)
  const zoneId = requireZoneEntry(book, COLONY.zone).id
  rows.container.push({ ...container, containerKindId: kind.id, single: false })
  rows.colony.push({
    ...{ ...colony, name: COLONY.name, notes: COLONY.notes, zoneId, containerId: container.id },
    speciesId: requireSpeciesEntry(book, COLONY.species).id,
    openedOn: dateOf(openedDay),
  })
  const counted = new Map<number, number>()
  for (const { hatchDay, hatched } of COLONY.clutches) {
    const story = { ...COLONY, hatchDay, hatched, evenings: [], soldShare: 0, counted: true }
    writeClutch(book, story)
    const clutchId = String(rows.clutch.at(-1)?.id)
    const before = rows.clutchHousing.find((housing) => housing.clutchId === clutchId)
    invariant(before, 'a clutch stands somewhere')
    before.untilOn = dateOf(openedDay)
    const moults = moultsOn(book, hatchDay, openedDay)
    rows.clutchHousing.push({
      ...{ ...stampId(book, openedDay), clutchId, zoneId, fromOn: dateOf(openedDay) },
      ...{ containerId: container.id, colonyId: colony.id, leastMoults: moults, mostMoults: moults },
    })
    const then = moultsOn(book, hatchDay, countedDay)
    counted.set(then, (counted.get(then) ?? 0) + countTogether(book, clutchId, countedDay))
  }
  for (const [moults, animals] of counted)
    rows.colonyCount.push({
      ...{ ...stamp(book, countedDay), colonyId: colony.id, on: dateOf(countedDay) },
      ...{ sex: 'unsexed' as const, moults, animals, countedBy },
    })
}

/** The stage most of a clutch of the colony is in on a day of the story. */
function moultsOn(book: Workbook, hatchDay: number, day: number): number {
  const { profile } = requireSpeciesEntry(book, COLONY.species)
  const { setPoints } = requireZoneEntry(book, COLONY.zone).story
  const history = setPoints.map(({ day: from, dayC, nightC }, place) => {
    const next = setPoints[place + 1]
    return { from: book.plainOf(from), until: next ? book.plainOf(next.day) : null, dayC, nightC }
  })
  const clutch = {
    profile,
    history,
    hatchedOn: book.plainOf(hatchDay),
    together: 20,
    today: book.plainOf(day),
  }
  const shares = sharesByDay(clutch)(book.plainOf(day))
  return shares.indexOf(Math.max(...shares))
}

function countTogether({ rows, dateOf }: Workbook, clutchId: string, day: number): number {
  return rows.headCountEntry
    .filter((entry) => entry.clutchId === clutchId && entry.on <= dateOf(day))
    .reduce((sum, { to, count }) => sum + (to === 'together' ? count : -count), 0)
}
