import { randomUUID } from 'node:crypto'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import { publicPageAddress, publicTokenHash, type SheetSubject } from '@/lib/platform/public-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type PublicLinkRow = { id: string; subjectId: string; version: number; address: string }

const FIELDS = {
  id: true,
  individualId: true,
  eggCaseId: true,
  lotId: true,
  generation: true,
  version: true,
} as const

const COLUMNS = { individual: 'individualId', 'egg-case': 'eggCaseId', lot: 'lotId' } as const

export type PublicSubjects = { kind: SheetSubject['kind']; ids: readonly string[] }

/** The public pages that are open now, by what they are about. */
export async function loadPublicLinks(
  tx: Tx,
  workspaceId: WorkspaceId,
  { kind, ids }: PublicSubjects,
): Promise<Map<string, PublicLinkRow>> {
  const column = COLUMNS[kind]
  const rows = await tx.publicLink.findMany({
    where: { workspaceId, [column]: { in: [...ids] }, revokedAt: null },
    select: FIELDS,
  })
  return new Map(
    rows.map((row) => {
      const subjectId = row[column]
      invariant(subjectId, 'a link found by its subject has it')
      const { id, version } = row
      return [subjectId, { id, subjectId, version, address: publicPageAddress(row) }]
    }),
  )
}

/** The open pages that an animal is on: its own, and those of the lots it was printed in. One statement. */
export async function listPagesOfAnimal(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualId: string,
): Promise<PublicLinkRow[]> {
  const rows = await tx.publicLink.findMany({
    where: {
      ...{ workspaceId, revokedAt: null },
      OR: [{ individualId }, { lot: { workspaceId, careSheets: { some: { workspaceId, individualId } } } }],
    },
    select: FIELDS,
    orderBy: { id: 'asc' },
  })
  return rows.map((row) => {
    const { id, version } = row
    return { id, version, subjectId: row.individualId ?? row.lotId ?? '', address: publicPageAddress(row) }
  })
}

/**
 * Opens the public page of each that has none: made the first time, opened again after it was revoked. The revoked
 * address stays dead, since revoking has raised the generation. What they are about must be locked, or just made.
 */
export async function openPublicLinks(
  tx: Tx,
  workspaceId: WorkspaceId,
  { kind, ids }: PublicSubjects,
): Promise<Map<string, PublicLinkRow>> {
  const column = COLUMNS[kind]
  const where = { workspaceId, [column]: { in: [...ids] } }
  const rows = await tx.publicLink.findMany({ where, select: FIELDS })
  const known = new Set(rows.map((row) => row[column]))
  const missing = ids.filter((id) => !known.has(id))
  await tx.publicLink.createMany({
    data: missing.map((subjectId) => {
      const id = randomUUID()
      return { workspaceId, id, [column]: subjectId, tokenHash: publicTokenHash({ id, generation: 1 }) }
    }),
  })
  await tx.publicLink.updateMany({
    where: { ...where, revokedAt: { not: null } },
    data: { revokedAt: null, version: { increment: 1 } },
  })
  return loadPublicLinks(tx, workspaceId, { kind, ids })
}
