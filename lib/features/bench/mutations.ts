import { individualCode } from '@/lib/domain/label/code'
import { isReserved } from '@/lib/domain/label/run'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type BenchOperation, benchOperationSchema } from '@/lib/features/bench/schema'
import { type LockedClutch, lockClutch } from '@/lib/features/clutch/data'
import { openHanging } from '@/lib/features/clutch-observation/data'
import { endStays, requirePlace } from '@/lib/features/housing/data'
import { lockIndividuals } from '@/lib/features/individual/data'
import {
  loadLikelyMoults,
  openSingles,
  requireSeparation,
  type SeparationRow,
} from '@/lib/features/separation/data'
import { openTray } from '@/lib/features/tray/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { admitEntry, answerQueue, type DevicePerson, type QueueAnswer } from '@/lib/platform/device-queue'
import { AppError, invariant, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { runOnce } from '@/lib/platform/operation'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Actor, Workspace } from '@/lib/platform/workspace'

/** What an operation did, kept under its id so that it can be taken back by that name. */
type Effect = { entryIds: string[]; individualId?: string; label?: string }

/**
 * Records what a device has queued, in its order, each operation in a transaction of its own and once. A refused one
 * holds back the later ones of its run, since they were tapped on top of it; other runs go on.
 */
export function recordBenchOperations(
  person: DevicePerson,
  operations: readonly unknown[],
): Promise<QueueAnswer[]> {
  return answerQueue(operations, {
    where: 'bench',
    schema: benchOperationSchema,
    heldBy: 'run',
    apply: (operation) => applyOnce(person, operation),
  })
}

async function applyOnce(person: DevicePerson, operation: BenchOperation): Promise<QueueAnswer> {
  const scope = admitEntry(person, operation, ({ role }) => isAllowed(role, 'clutch:write'))
  const request = { key: `bench:${operation.id}`, content: operation }
  const { value, repeated } = await runOnce(scope, request, (tx, workspace) =>
    applyOperation(tx, { scope, workspace }, operation),
  )
  const status = repeated ? ('already-applied' as const) : ('applied' as const)
  return { id: operation.id, status, ...(value.label ? { label: value.label } : {}) }
}

type Run = { row: SeparationRow; clutch: LockedClutch }

/** One operation in the transaction that also holds its key. */
async function applyOperation(tx: Tx, actor: Actor, operation: BenchOperation): Promise<Effect> {
  const { workspaceId, today } = actor.workspace
  const row = await requireSeparation(tx, workspaceId, operation.run)
  refuseFuture('on', operation.on, today)
  if (operation.kind === 'undo') return undoOperation(tx, actor, { row, undoes: operation.undoes })
  const run = { row, clutch: await lockClutch(tx, workspaceId, row.clutchId) }
  if (operation.on < run.clutch.hatchedOn) throw refuseField('on', `They hatched on ${run.clutch.hatchedOn}.`)
  switch (operation.kind) {
    case 'cup':
      return recordCup(tx, actor, { ...run, operation })
    case 'dead':
    case 'escaped':
      return recordLost(tx, actor, { ...run, operation })
    case 'raise':
      return {
        entryIds: [await createRaise(tx, actor, { ...run, operation, count: operation.payload.count })],
      }
    case 'finish':
      return finishRun(tx, actor, run)
    case 'hanging':
      await openHanging(tx, workspaceId, {
        clutchId: run.clutch.id,
        on: operation.on,
        ...operation.payload,
        seenBy: actor.scope.personId,
      })
      return { entryIds: [] }
    case 'tray':
      return { entryIds: [], label: (await openTray(tx, actor.workspace, { run: row.id })).label }
  }
}

type Tapped<Kind extends BenchOperation['kind']> = Run & {
  operation: Extract<BenchOperation, { kind: Kind }>
}

async function recordCup(tx: Tx, actor: Actor, tapped: Tapped<'cup'>): Promise<Effect> {
  const { scope, workspace } = actor
  const { row, clutch, operation } = tapped
  const { containerKind, moults } = operation.payload
  const entryIds = await makeRoom(tx, actor, tapped)
  const place = await requirePlace(tx, workspace.workspaceId, { containerKind, zone: row.zoneId, animals: 1 })
  const [single] = await openSingles(tx, workspace, {
    clutch,
    separationId: row.id,
    place,
    on: operation.on,
    moults: moults ?? (await loadLikelyMoults(tx, workspace, { clutchId: clutch.id, on: operation.on })),
    numbers: [await chooseNumber(tx, workspace, { row, number: operation.payload.number })],
    recordedBy: scope.personId,
  })
  invariant(single, 'one cup holds one animal')
  return { entryIds: [...entryIds, single.entryId], individualId: single.id, label: single.label }
}

/** The number on the cup, if the run set it aside and no cup has it yet; the next one otherwise. */
async function chooseNumber(
  tx: Tx,
  { workspaceId, labelKey }: Workspace,
  { row, number }: { row: SeparationRow; number: number | undefined },
): Promise<number> {
  const run = { first: row.firstNumber, planned: row.planned }
  if (number !== undefined && isReserved(number, run)) {
    const label = individualCode(number, String(labelKey))
    const taken = await tx.individual.findUnique({
      where: { workspaceId_label: { workspaceId, label } },
      select: { id: true },
    })
    if (!taken) return number
  }
  return takeNumbers(tx, workspaceId, { name: 'individual', count: 1 })
}

/**
 * More animals under the hand than on record: while the count is "about" they raise it, however far. In a counted
 * clutch they cannot be, so the entry is kept on the device until somebody corrects the count.
 */
async function makeRoom(
  tx: Tx,
  actor: Actor,
  tapped: Run & { operation: BenchOperation },
): Promise<string[]> {
  const { clutch } = tapped
  if (clutch.headCount.together > 0) return []
  if (!clutch.counted) return [await createRaise(tx, actor, { ...tapped, count: 1 })]
  throw new AppError('more-than-left', `By the count nobody of ${clutch.label} is together any more.`, {
    present: { headCount: clutch.headCount },
  })
}

async function createRaise(
  tx: Tx,
  { scope, workspace }: Actor,
  { row, clutch, operation, count }: Run & { operation: BenchOperation; count: number },
): Promise<string> {
  const made = await tx.headCountEntry.create({
    data: {
      workspaceId: workspace.workspaceId,
      clutchId: clutch.id,
      from: 'uncounted',
      to: 'together',
      count,
      on: fromPlainDate(operation.on),
      note: clutch.counted ? 'count corrected at the bench' : 'more than "about"',
      separationId: row.id,
      recordedBy: scope.personId,
    },
    select: { id: true },
  })
  return made.id
}

async function recordLost(tx: Tx, actor: Actor, tapped: Tapped<'dead' | 'escaped'>): Promise<Effect> {
  const { scope, workspace } = actor
  const { row, clutch, operation } = tapped
  const entryIds = await makeRoom(tx, actor, tapped)
  const made = await tx.headCountEntry.create({
    data: {
      workspaceId: workspace.workspaceId,
      clutchId: clutch.id,
      from: 'together',
      to: operation.kind,
      count: 1,
      on: fromPlainDate(operation.on),
      cause: operation.kind === 'dead' ? operation.payload.cause : null,
      separationId: row.id,
      recordedBy: scope.personId,
    },
    select: { id: true },
  })
  return { entryIds: [...entryIds, made.id] }
}

/** Takes back what the named operation did, newest entry first; its cup stands empty again. */
async function undoOperation(
  tx: Tx,
  actor: Actor,
  { row, undoes }: { row: SeparationRow; undoes: string },
): Promise<Effect> {
  const { scope, workspace } = actor
  const { workspaceId } = workspace
  const done = await tx.operation.findUnique({
    where: { workspaceId_id: { workspaceId, id: `bench:${undoes}` } },
    select: { answer: true },
  })
  // Written by applyOperation alone, so the stored answer has this shape.
  const effect = done?.answer as Effect | undefined
  if (!effect || effect.entryIds.length === 0) throw refuseUnknown('entry of this run')
  // The animal before its clutch, as a sale does it, so that the two never wait for each other.
  if (effect.individualId) await emptyCup(tx, workspace, { individualId: effect.individualId, on: row.on })
  await lockClutch(tx, workspaceId, row.clutchId)
  const entries = await tx.headCountEntry.findMany({
    where: { workspaceId, id: { in: effect.entryIds }, separationId: row.id },
    orderBy: { id: 'desc' },
  })
  if (entries.length !== effect.entryIds.length) throw refuseUnknown('entry of this run')
  const made: string[] = []
  for (const { id, from, to, count, on, clutchId, individualId } of entries) {
    const reversal = await tx.headCountEntry.create({
      data: {
        workspaceId,
        clutchId,
        individualId,
        from: to,
        to: from,
        count,
        on,
        note: 'taken back at the bench',
        reverses: id,
        separationId: row.id,
        recordedBy: scope.personId,
      },
      select: { id: true },
    })
    made.push(reversal.id)
  }
  return { entryIds: made }
}

async function emptyCup(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { individualId, on }: { individualId: string; on: string },
): Promise<void> {
  const animals = await lockIndividuals(tx, workspaceId, [individualId])
  const isMoved = animals.some(({ stays }) =>
    stays.filter(({ until }) => until === null).some(({ from }) => from > on),
  )
  await endStays(tx, workspaceId, { animals, on: isMoved ? today : on, today })
}

/** Closes the run. An "about" clutch of which nobody is left together has been counted by that. */
async function finishRun(
  tx: Tx,
  { workspace: { workspaceId } }: Actor,
  { row, clutch }: Run,
): Promise<Effect> {
  await tx.separation.updateMany({
    where: { workspaceId, id: row.id, finishedAt: null },
    data: { finishedAt: new Date() },
  })
  if (!clutch.counted && clutch.headCount.together === 0)
    await tx.clutch.update({
      where: { workspaceId_id: { workspaceId, id: clutch.id } },
      data: { counted: true, hatchedLow: null, hatchedHigh: null, version: { increment: 1 } },
    })
  return { entryIds: [] }
}
