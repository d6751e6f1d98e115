import { writeDay } from '@/lib/domain/calendar/wording'
import { requireContainerKind } from '@/lib/features/container/data'
import { requireCulture } from '@/lib/features/culture/data'
import { requireEggCase } from '@/lib/features/egg-case/data'
import type { OrderStockRow } from '@/lib/features/order/data'
import type { OrderedStock } from '@/lib/features/order-stock/schema'
import { requireStoredLine } from '@/lib/features/prey/data'
import { requireSpecies } from '@/lib/features/species/data'
import type { StockSubject } from '@/lib/features/stock-line/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import type { Warning } from '@/lib/platform/warned'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

type Columns = {
  eggCaseId?: string
  cultureId?: string
  containerKindId?: string
  preySlug?: string
  quantity: number
  items?: number
  description: string
}
export type NamedStock = { columns: Columns; warnings: Warning[] }

/** Egg cases and jars that wait for an order which is still here, by their ids, with its number. */
export async function loadOrdersOfStock(
  tx: Tx,
  workspaceId: WorkspaceId,
  ids: readonly string[],
): Promise<Map<string, number>> {
  if (ids.length === 0) return new Map()
  const rows = await tx.$queryRaw<{ id: string; number: number }[]>`
    select coalesce(k.egg_case_id, k.culture_id)::text as id, o.number
    from order_stock_line k join customer_order o on o.workspace_id = k.workspace_id and o.id = k.order_id
    where k.workspace_id = ${workspaceId}::uuid and k.removed_on is null and o.left_on is null
      and o.cancelled_on is null
      and (k.egg_case_id = any(${[...ids]}::uuid[]) or k.culture_id = any(${[...ids]}::uuid[]))`
  return new Map(rows.map(({ id, number }) => [id, number]))
}

/** `first`: the number of the first of the lines that join. */
export type JoiningStock = { order: string; first: number; lines: readonly OrderedStock[] }

/**
 * Puts things of the stock on an order whose row is locked. They stay in the stock until it leaves.
 * @throws AppError already-gone for an egg case or a jar that is not here or in another order; not-found
 */
export async function takeOrderStock(
  tx: Tx,
  workspace: Workspace,
  { order: orderId, first, lines }: JoiningStock,
): Promise<Warning[]> {
  const { workspaceId } = workspace
  const ids = lines.flatMap((line) => singleIdOf(line) ?? [])
  const taken = await loadOrdersOfStock(tx, workspaceId, ids)
  const warnings: Warning[] = []
  const rows: Prisma.OrderStockLineCreateManyInput[] = []
  for (const line of lines) {
    const named = await requireOrderable(tx, workspace, line)
    const other = taken.get(singleIdOf(line) ?? '')
    if (other !== undefined)
      throw new AppError('already-gone', `${named.columns.description} is on order ${other}.`, {
        present: { order: other },
      })
    const { kind, price: priceMinor } = line
    rows.push({ workspaceId, orderId, number: first + rows.length, kind, priceMinor, ...named.columns })
    warnings.push(...named.warnings)
  }
  if (rows.length > 0) await tx.orderStockLine.createMany({ data: rows })
  return warnings
}

function singleIdOf(line: OrderedStock): string | undefined {
  return line.kind === 'egg_case' ? line.eggCase : line.kind === 'culture' ? line.culture : undefined
}

/** What is called by which name, and by which column it is linked; what speaks against it is told. @throws AppError already-gone, not-found */
export async function requireOrderable(
  tx: Tx,
  workspace: Workspace,
  line: OrderedStock,
): Promise<NamedStock> {
  const { workspaceId } = workspace
  switch (line.kind) {
    case 'egg_case':
      return nameEggCase(tx, workspace, line.eggCase)
    case 'culture':
      return nameCulture(tx, workspace, line.culture)
    case 'container': {
      const { quantity } = line
      const { id, name, free } = await requireContainerKind(tx, workspaceId, line.containerKind)
      const message = `Only ${Math.max(0, free)} of “${name}” are free today.`
      const warnings = free < quantity ? [{ code: 'more-than-left', message }] : []
      return { columns: { containerKindId: id, quantity, description: name }, warnings }
    }
    case 'pack': {
      const { quantity, items } = line
      const stored = await requireStoredLine(tx, workspaceId, line.line)
      const description = `${stored.line.name}, ${items} a pack`
      return { columns: { preySlug: stored.line.id, quantity, items, description }, warnings: [] }
    }
    case 'other':
      return { columns: { quantity: line.quantity, description: line.description }, warnings: [] }
  }
}

async function nameEggCase(tx: Tx, { workspaceId, today }: Workspace, id: string): Promise<NamedStock> {
  const { label, speciesId, endedOn } = await requireEggCase(tx, workspaceId, id)
  if (endedOn !== null)
    throw new AppError('already-gone', `${label} is not here since ${writeDay(endedOn, today)}.`)
  const { scientificName } = await requireSpecies(tx, workspaceId, speciesId)
  const description = `Egg case of ${scientificName}, ${label}`
  return { columns: { eggCaseId: id, quantity: 1, description }, warnings: [] }
}

async function nameCulture(tx: Tx, { workspaceId, today }: Workspace, id: string): Promise<NamedStock> {
  const jar = await requireCulture(tx, workspaceId, id)
  if (jar.endedOn !== null)
    throw new AppError(
      'already-gone',
      `${jar.label} is not on the shelf since ${writeDay(jar.endedOn, today)}.`,
    )
  const { line } = await requireStoredLine(tx, workspaceId, jar.line)
  const description = `${line.name}, culture ${jar.label}`
  return { columns: { cultureId: id, quantity: 1, description }, warnings: [] }
}

/** A line of an order as the counter takes it out of the stock. */
export function subjectOfOrdered({
  kind,
  subjectId,
  quantity,
  items,
  description,
}: OrderStockRow): StockSubject {
  if (kind === 'egg_case') return { kind, eggCase: subjectId }
  if (kind === 'culture') return { kind, culture: subjectId }
  if (kind === 'container') return { kind, containerKind: subjectId, quantity }
  if (kind === 'pack') return { kind, line: subjectId, quantity, items: items ?? 1 }
  return { kind, description, quantity }
}
