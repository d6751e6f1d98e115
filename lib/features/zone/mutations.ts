import { addDays } from '@/lib/domain/calendar/date'
import type {
  ArchiveZone,
  CreateZone,
  RecordQuarantine,
  RecordSetPoint,
  UpdateZone,
} from '@/lib/features/zone/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** Makes a zone whose temperature holds from today; forecasts read it backwards for what stood there before. */
export async function createZone(tx: Tx, workspace: Workspace, zone: CreateZone): Promise<{ id: string }> {
  const { workspaceId, today } = workspace
  const made = await tx.zone.create({
    data: { workspaceId, name: zone.name, walkingOrder: zone.walkingOrder ?? 0 },
    select: { id: true },
  })
  await tx.zoneSetPoint.create({
    data: {
      workspaceId,
      zoneId: made.id,
      fromOn: fromPlainDate(today),
      dayC: zone.setTemperatureC,
      nightC: zone.nightTemperatureC ?? null,
    },
  })
  return made
}

/** @throws AppError stale with the present values when someone else saved first */
export async function updateZone(tx: Tx, workspaceId: WorkspaceId, zone: UpdateZone): Promise<void> {
  const { id, version, name, walkingOrder } = zone
  const changed = await tx.zone.updateMany({
    where: { workspaceId, id, version, archivedAt: null },
    data: { name, walkingOrder, version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId, id)
}

/**
 * Keeps what stands in a zone from leaving before a day; without a day it may leave again.
 * @throws AppError invalid for a day that has passed or is more than a year ahead; stale when someone else saved first
 */
export async function recordQuarantine(
  tx: Tx,
  workspace: Workspace,
  { id, version, until, reason }: RecordQuarantine,
): Promise<void> {
  const { workspaceId, today } = workspace
  if (until && until <= today)
    throw refuseField('until', 'Choose a day that is to come, or none to end the quarantine.')
  if (until && until > addDays(today, PLANNED_AT_MOST_DAYS))
    throw refuseField('until', 'This is more than a year ahead.')
  const changed = await tx.zone.updateMany({
    where: { workspaceId, id, version, archivedAt: null },
    data: {
      quarantineUntil: fromPlainDateOrNull(until),
      quarantineReason: until ? reason : '',
      version: { increment: 1 },
    },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId, id)
}

// Far enough for a planned winter, near enough to catch a mistyped year.
const PLANNED_AT_MOST_DAYS = 400

/** What the zone is set to from a day on. A second entry for one day replaces the first. */
export async function recordSetPoint(tx: Tx, workspace: Workspace, setPoint: RecordSetPoint): Promise<void> {
  const { workspaceId, today } = workspace
  const { zoneId, from, dayC, nightC = null } = setPoint
  if (from > addDays(today, PLANNED_AT_MOST_DAYS)) throw refuseField('from', 'is more than a year ahead')
  if (from < '2000-01-01') throw refuseField('from', 'is before the year 2000')
  const zone = await tx.zone.findUnique({
    where: { workspaceId_id: { workspaceId, id: zoneId } },
    select: { id: true },
  })
  if (!zone) throw refuseUnknown('zone')
  const fromOn = fromPlainDate(from)
  const changed = await tx.zoneSetPoint.updateMany({
    where: { workspaceId, zoneId, fromOn },
    data: { dayC, nightC },
  })
  if (changed.count === 0)
    await tx.zoneSetPoint.create({ data: { workspaceId, zoneId, fromOn, dayC, nightC } })
}

/**
 * Puts a zone out of use. Its record stays, since past temperatures are read from it.
 * @throws AppError invalid while something stands in it; stale when it was changed meanwhile
 */
export async function archiveZone(tx: Tx, workspaceId: WorkspaceId, zone: ArchiveZone): Promise<void> {
  const occupants = await countOccupants(tx, workspaceId, zone.id)
  if (occupants.length > 0)
    throw new AppError('invalid', `Still standing in it: ${occupants.join(', ')}. Move them first.`)
  const changed = await tx.zone.updateMany({
    where: { workspaceId, id: zone.id, version: zone.version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId, zone.id)
}

async function countOccupants(tx: Tx, workspaceId: WorkspaceId, zoneId: string): Promise<string[]> {
  const where = { workspaceId, zoneId, untilOn: null }
  const animals = await tx.housing.count({ where })
  const clutches = await tx.clutchHousing.count({ where })
  const eggCases = await tx.eggCaseStay.count({ where: { ...where, eggCase: { endedOn: null } } })
  return [
    sayCount(animals, 'animal', 'animals'),
    sayCount(clutches, 'clutch', 'clutches'),
    sayCount(eggCases, 'egg case', 'egg cases'),
  ].filter((words) => words !== '')
}

function sayCount(count: number, one: string, many: string): string {
  return count === 0 ? '' : `${count} ${count === 1 ? one : many}`
}

async function refuseStale(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<AppError> {
  const present = await tx.zone.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: { name: true, walkingOrder: true, version: true, archivedAt: true },
  })
  if (!present) return refuseUnknown('zone')
  if (present.archivedAt) return new AppError('stale', 'This zone has been put out of use meanwhile.')
  const { name, walkingOrder, version } = present
  return new AppError('stale', 'Someone else changed this zone meanwhile.', {
    present: { name, walkingOrder, version },
  })
}
