import { mergeLines, type RoomLine, type StoredLine } from '@/lib/domain/prey/kept-line'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** Every prey line: the common ones, as the workspace changed them, and its own. One statement. */
export async function listPreyLines(tx: Tx, workspaceId: WorkspaceId): Promise<RoomLine[]> {
  return mergeLines(await tx.$queryRaw<StoredLine[]>(storedLines(workspaceId)))
}

/** The rows that lines are merged from, for a statement that asks for more than them. */
export function storedLines(workspaceId: WorkspaceId): Prisma.Sql {
  return Prisma.sql`
    select l.slug, l.kept, l.version, v.number, v.content
    from prey_line l
    left join lateral (
      select x.number, x.content from prey_line_version x
      where x.workspace_id = l.workspace_id and x.slug = l.slug order by x.number desc limit 1) v on true
    where l.workspace_id = ${workspaceId}::uuid
    order by l.created_at, l.slug`
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
