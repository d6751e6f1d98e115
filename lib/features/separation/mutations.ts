import type { PlainDate } from '@/lib/domain/calendar/date'
import { reservedNumbers } from '@/lib/domain/label/run'
import { type LockedClutch, lockClutch, raiseNeeded } from '@/lib/features/clutch/data'
import { requirePlace } from '@/lib/features/housing/data'
import { loadLikelyMoults, openSingles, type Single } from '@/lib/features/separation/data'
import type { NewSeparation, StartSeparation } from '@/lib/features/separation/schema'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace } from '@/lib/platform/workspace'

export type StartedRun = { id: string; firstNumber: number; reserved: number }

/** Opens a run at the bench and sets its label numbers aside, so that cups can be labelled without a connection. */
export async function createSeparation(
  tx: Tx,
  { scope, workspace }: Actor,
  asked: StartSeparation,
): Promise<Warned<StartedRun>> {
  const { workspaceId, today } = workspace
  const clutch = await lockClutch(tx, workspaceId, asked.clutch)
  refuseWrongDay(asked.on, { clutch, today })
  const place = await requirePlace(tx, workspaceId, { ...asked, animals: asked.planned })
  const reserved = reservedNumbers(asked.planned)
  const firstNumber = await takeNumbers(tx, workspaceId, { name: 'individual', count: reserved })
  const run = await tx.separation.create({
    data: {
      workspaceId,
      clutchId: clutch.id,
      containerKindId: place.kind.id,
      zoneId: place.zoneId,
      on: fromPlainDate(asked.on),
      planned: asked.planned,
      firstNumber,
      startedBy: scope.personId,
    },
    select: { id: true },
  })
  return { value: { id: run.id, firstNumber, reserved }, warnings: place.warnings }
}

function refuseWrongDay(on: PlainDate, { clutch, today }: { clutch: LockedClutch; today: PlainDate }): void {
  refuseFuture('on', on, today)
  if (on < clutch.hatchedOn) throw refuseField('on', `They hatched on ${clutch.hatchedOn}.`)
}

export type Separated = { separationId: string; speciesId: string; singles: Single[] }

/**
 * Puts many siblings apart at once. Too few free containers is a warning, since it has been done.
 * @throws AppError more-than-left for a counted clutch, or past the range of an "about"
 */
export async function recordSeparation(
  tx: Tx,
  { scope, workspace }: Actor,
  asked: NewSeparation & { clutch: string },
): Promise<Warned<Separated>> {
  const { workspaceId, today } = workspace
  const clutch = await lockClutch(tx, workspaceId, asked.clutch)
  refuseWrongDay(asked.on, { clutch, today })
  const zone = asked.zone ?? (await requirePresentZone(tx, workspace, clutch.id))
  const place = await requirePlace(tx, workspaceId, { ...asked, zone, animals: asked.count })
  const raised = await raiseCount(tx, { scope, workspace }, { clutch, on: asked.on, count: asked.count })
  const moults =
    asked.moults ?? (await loadLikelyMoults(tx, workspace, { clutchId: clutch.id, on: asked.on }))
  const first = await takeNumbers(tx, workspaceId, { name: 'individual', count: asked.count })
  const run = await tx.separation.create({
    data: {
      workspaceId,
      clutchId: clutch.id,
      containerKindId: place.kind.id,
      zoneId: zone,
      on: fromPlainDate(asked.on),
      planned: asked.count,
      firstNumber: first,
      finishedAt: new Date(),
      startedBy: scope.personId,
    },
    select: { id: true },
  })
  const singles = await openSingles(tx, workspace, {
    clutch,
    separationId: run.id,
    place,
    on: asked.on,
    moults,
    numbers: Array.from({ length: asked.count }, (_, index) => first + index),
    recordedBy: scope.personId,
  })
  return {
    value: { separationId: run.id, speciesId: clutch.speciesId, singles },
    warnings: [...raised, ...place.warnings],
  }
}

async function requirePresentZone(tx: Tx, { workspaceId }: Workspace, clutchId: string): Promise<string> {
  const housing = await tx.clutchHousing.findFirst({
    where: { workspaceId, clutchId, untilOn: null },
    select: { zoneId: true },
  })
  if (!housing) throw refuseField('zone', 'Say where the containers stand.')
  return housing.zoneId
}

async function raiseCount(
  tx: Tx,
  { scope, workspace }: Actor,
  asked: { clutch: LockedClutch; on: PlainDate; count: number },
): Promise<Warning[]> {
  const count = raiseNeeded(asked.clutch, asked.count)
  if (count === 0) return []
  await tx.headCountEntry.create({
    data: {
      workspaceId: workspace.workspaceId,
      clutchId: asked.clutch.id,
      from: 'uncounted',
      to: 'together',
      count,
      on: fromPlainDate(asked.on),
      note: 'more than "about"',
      recordedBy: scope.personId,
    },
  })
  const hatched = asked.clutch.headCount.hatched + count
  return [
    {
      code: 'count-raised',
      message: `The count of ${asked.clutch.label} was "about" and is now ${hatched}.`,
    },
  ]
}
