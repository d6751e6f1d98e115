import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { changeFigure } from '@/lib/domain/prey/figure'
import { adoptLine, lineSlug } from '@/lib/domain/prey/kept-line'
import type { PreyLine } from '@/lib/domain/prey/line'
import { listPreyLines, requireStoredLine } from '@/lib/features/prey/data'
import type {
  ChangeAnyFigure,
  ChangeFigure,
  ChangeOrderDays,
  CreatePreyLine,
  KeepPreyLine,
  NewPreyCount,
  NewPreyDeparture,
  NewPreyOrder,
  SettlePreyOrder,
} from '@/lib/features/prey/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * A line of one's own, with the figures of a similar one to begin with.
 * @throws AppError name-taken when a line of that name is there
 */
export async function createPreyLine(
  tx: Tx,
  workspaceId: WorkspaceId,
  { name, like }: CreatePreyLine,
): Promise<{ slug: string }> {
  const lines = await listPreyLines(tx, workspaceId)
  const model = lines.find(({ line }) => line.id === like)
  if (!model) throw refuseUnknown('prey line')
  const slug = lineSlug(name)
  if (slug === '') throw refuseField('name', 'Use Latin letters or figures.')
  if (lines.some(({ line }) => line.id === slug || line.name.toLowerCase() === name.toLowerCase()))
    throw new AppError('name-taken', 'A line of that name is already there.', {
      fields: [{ path: 'name', message: 'A line of that name is already there.' }],
    })
  await tx.preyLine.create({ data: { workspaceId, slug, kept: true } })
  await storeVersion(tx, workspaceId, { slug, number: 1, line: adoptLine(model.line, { id: slug, name }) })
  return { slug }
}

type Stored = { slug: string; number: number; line: PreyLine }

async function storeVersion(tx: Tx, workspaceId: WorkspaceId, { slug, number, line }: Stored): Promise<void> {
  const made = await tx.preyLineVersion.createMany({
    data: [{ workspaceId, slug, number, content: JSON.parse(JSON.stringify(line)) }],
    skipDuplicates: true,
  })
  if (made.count === 0) throw staleFigures(number)
}

function staleFigures(number: number): AppError {
  return new AppError('stale', 'The figures of this line were changed meanwhile.', {
    present: { version: number },
  })
}

/** Makes a new version of a line's figures; older ones stay. @throws AppError stale, invalid at the value */
export async function updatePreyFigure(
  tx: Tx,
  workspaceId: WorkspaceId,
  change: ChangeFigure,
): Promise<{ number: number }> {
  const { path, value = null, note } = change
  return changeLine(tx, workspaceId, { ...change, field: 'value', figure: { path, value, note } })
}

/** The same for any figure, also one that is no single number. @throws AppError stale, invalid at the value */
export async function updateAnyPreyFigure(
  tx: Tx,
  workspaceId: WorkspaceId,
  change: ChangeAnyFigure,
): Promise<{ number: number }> {
  const { path, value = null, note } = change
  return changeLine(tx, workspaceId, { ...change, field: 'value', figure: { path, value, note } })
}

/** The weekdays on which the supplier takes orders. */
export async function updateOrderDays(
  tx: Tx,
  workspaceId: WorkspaceId,
  change: ChangeOrderDays,
): Promise<{ number: number }> {
  const value = change.weekdays.flatMap((isTaken, index) => (isTaken ? [index + 1] : []))
  const figure = { path: 'supply.orderWeekdays', value, note: change.note }
  return changeLine(tx, workspaceId, { ...change, field: 'weekdays', figure })
}

type LineChange = {
  line: string
  version: number
  field: string
  figure: Parameters<typeof changeFigure>[1]
}

async function changeLine(
  tx: Tx,
  workspaceId: WorkspaceId,
  { line: slug, version, field, figure }: LineChange,
): Promise<{ number: number }> {
  const known = await requireStoredLine(tx, workspaceId, slug)
  if (known.number !== version) throw staleFigures(known.number)
  const changed = changeFigure(known.line, figure)
  if (changed.status === 'wrong') throw refuseField(field, changed.message)
  const number = version + 1
  await storeVersion(tx, workspaceId, { slug, number, line: changed.line })
  return { number }
}

/** Whether a line is planned with. @throws AppError stale */
export async function updateKept(
  tx: Tx,
  workspaceId: WorkspaceId,
  { line: slug, version, kept }: KeepPreyLine,
): Promise<void> {
  await requireStoredLine(tx, workspaceId, slug)
  const changed = await tx.preyLine.updateMany({
    where: { workspaceId, slug, version: Math.max(1, version) },
    data: { kept, version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'Somebody else changed this line meanwhile.')
}

/** Packs ordered. A day the supplier does not take orders on, or is closed, is said and not refused. */
export async function createPreyOrder(
  tx: Tx,
  { workspace }: Actor,
  order: NewPreyOrder,
): Promise<Warned<{ id: string; dueOn: PlainDate }>> {
  const { workspaceId, today } = workspace
  const { line } = await requireStoredLine(tx, workspaceId, order.line)
  const { supply } = line
  if (supply.kind === 'culture') throw refuseField('line', `${line.name} is not bought but started here.`)
  refuseFuture('orderedOn', order.orderedOn, today)
  const dueOn = order.dueOn ?? addDays(order.orderedOn, Math.round(supply.leadDays.value))
  if (dueOn < order.orderedOn) throw refuseField('dueOn', 'This is before it was ordered.')
  if (dueOn > addDays(today, 400)) throw refuseField('dueOn', 'is more than a year ahead')
  const made = await tx.preyOrder.create({
    data: {
      workspaceId,
      slug: line.id,
      packs: order.packs,
      packSize: Math.max(1, Math.round(supply.packSize.value)),
      orderedOn: fromPlainDate(order.orderedOn),
      dueOn: fromPlainDate(dueOn),
      costMinor: Math.round(order.packs * supply.packCostMinor.value),
    },
    select: { id: true },
  })
  return { value: { id: made.id, dueOn }, warnings: [] }
}

/**
 * What was ordered has come, or will not come, once.
 * @throws AppError already-recorded, stale
 */
export async function updatePreyOrder(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { order, version, as, on = today }: SettlePreyOrder,
): Promise<void> {
  refuseFuture('on', on, today)
  const known = await tx.preyOrder.findUnique({
    where: { workspaceId_id: { workspaceId, id: order } },
    select: { orderedOn: true, arrivedOn: true, cancelledOn: true },
  })
  if (!known) throw refuseUnknown('order')
  if (fromPlainDate(on) < known.orderedOn) throw refuseField('on', 'This is before it was ordered.')
  const day = fromPlainDate(on)
  const settled = await tx.preyOrder.updateMany({
    where: { workspaceId, id: order, version, arrivedOn: null, cancelledOn: null },
    data: { ...(as === 'arrived' ? { arrivedOn: day } : { cancelledOn: day }), version: { increment: 1 } },
  })
  if (settled.count === 0)
    throw new AppError('already-recorded', 'This order has already arrived or been taken back.')
}

export async function recordPreyCount(
  tx: Tx,
  { scope, workspace: { workspaceId, today } }: Actor,
  { line, on, count }: NewPreyCount,
): Promise<{ id: string }> {
  await requireStoredLine(tx, workspaceId, line)
  refuseFuture('on', on, today)
  return tx.preyCount.create({
    data: { workspaceId, slug: line, on: fromPlainDate(on), count, countedBy: scope.personId },
    select: { id: true },
  })
}

/** Items sold, fed to others or thrown out: they leave the supply. */
export async function recordPreyDeparture(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { line, on, count, how }: NewPreyDeparture,
): Promise<{ id: string }> {
  await requireStoredLine(tx, workspaceId, line)
  refuseFuture('on', on, today)
  return tx.preyDeparture.create({
    data: { workspaceId, slug: line, on: fromPlainDate(on), count, how },
    select: { id: true },
  })
}
