import type { PlainDate } from '@/lib/domain/calendar/date'
import { mergeLines, type RoomLine, type StoredLine } from '@/lib/domain/prey/kept-line'
import type { PreyLine } from '@/lib/domain/prey/line'
import { expectedStock, type StockEntry } from '@/lib/domain/prey/stock'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** Every prey line: the common ones, as the workspace changed them, and its own. One statement. */
export async function listPreyLines(tx: Tx, workspaceId: WorkspaceId): Promise<RoomLine[]> {
  const stored = await tx.$queryRaw<StoredLine[]>`
    select l.slug, l.kept, l.version, v.number, v.content
    from prey_line l
    left join lateral (
      select x.number, x.content from prey_line_version x
      where x.workspace_id = l.workspace_id and x.slug = l.slug order by x.number desc limit 1) v on true
    where l.workspace_id = ${workspaceId}::uuid
    order by l.created_at, l.slug`
  return mergeLines(stored)
}

/**
 * One line by its slug.
 * @throws AppError not-found
 */
export async function requirePreyLine(tx: Tx, workspaceId: WorkspaceId, slug: string): Promise<RoomLine> {
  const found = (await listPreyLines(tx, workspaceId)).find(({ line }) => line.id === slug)
  if (!found) throw refuseUnknown('prey line')
  return found
}

/**
 * The line with a row of its own, so that records can name it; made on the first use of a common one.
 * @throws AppError not-found
 */
export async function requireStoredLine(tx: Tx, workspaceId: WorkspaceId, slug: string): Promise<RoomLine> {
  const known = await requirePreyLine(tx, workspaceId, slug)
  if (known.version === 0)
    await tx.preyLine.createMany({ data: [{ workspaceId, slug, kept: known.kept }], skipDuplicates: true })
  return known
}

export type PreyOrderRow = {
  id: string
  line: string
  packs: number
  packSize: number
  orderedOn: PlainDate
  dueOn: PlainDate
  arrivedOn: PlainDate | null
  costMinor: number | null
  version: number
}

/** Orders on their way, however late, and what arrived since a day. */
export function listPreyOrders(
  tx: Tx,
  workspaceId: WorkspaceId,
  { since }: { since: PlainDate },
): Promise<PreyOrderRow[]> {
  return tx.$queryRaw<PreyOrderRow[]>`
    select o.id, o.slug as line, o.packs, o.pack_size as "packSize", o.ordered_on::text as "orderedOn",
      o.due_on::text as "dueOn", o.arrived_on::text as "arrivedOn", o.cost_minor as "costMinor", o.version
    from prey_order o
    where o.workspace_id = ${workspaceId}::uuid and o.cancelled_on is null
      and (o.arrived_on is null or o.arrived_on >= ${since}::date)
    order by o.due_on, o.id`
}

type EntryRow = StockEntry & { line: string }

/**
 * What stands of each line today, expected from counts, arrivals of what is bought by size, what was sold or thrown
 * out, and feedings that name the line (an item an animal). Harvests are taken to be fed as they are taken.
 */
export async function loadPreyStock(
  tx: Tx,
  workspaceId: WorkspaceId,
  { lines, today }: { lines: readonly RoomLine[]; today: PlainDate },
): Promise<Map<string, number>> {
  const names = lines.map(({ line }) => line.name.toLowerCase())
  const slugs = lines.map(({ line }) => line.id)
  const rows = await tx.$queryRaw<EntryRow[]>`
    select c.slug as line, c."on"::text as "on", 'count' as kind, c.count as items
      from prey_count c where c.workspace_id = ${workspaceId}::uuid and c."on" > ${today}::date - 60
    union all
    select d.slug, d."on"::text, 'out', d.count
      from prey_departure d where d.workspace_id = ${workspaceId}::uuid and d."on" > ${today}::date - 60
    union all
    select o.slug, o.arrived_on::text, 'in', o.packs * o.pack_size
      from prey_order o where o.workspace_id = ${workspaceId}::uuid and o.arrived_on > ${today}::date - 60
    union all
    select s.slug, f."on"::text, 'out', count(*)::int
      from unnest(${slugs}::text[], ${names}::text[]) as s(slug, name)
      join feeding f on f.workspace_id = ${workspaceId}::uuid and f.ate and f."on" > ${today}::date - 60
        and lower(f.prey) in (s.slug, s.name)
      group by s.slug, f."on"`
  return new Map(lines.map(({ line }) => [line.id, stockOf(line, rows, today)]))
}

/** Flies live in a cup for some days; what is bought, as long as it keeps. */
const FLY_DAYS = 7

function stockOf(line: PreyLine, rows: readonly EntryRow[], today: PlainDate): number {
  const { supply } = line
  const own = rows.filter((row) => row.line === line.id)
  // Pupae on their way to being flies are deliveries, not stock; flies out of jars are fed as they are taken.
  const isBought = supply.kind === 'bought'
  const counted = isBought ? own : own.filter(({ kind }) => kind !== 'in')
  const keepDays = isBought ? supply.keepDays.value : FLY_DAYS
  return expectedStock(counted, { dailyDeathRate: supply.dailyDeathRate.value, keepDays }, today)
}
