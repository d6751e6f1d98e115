import { randomUUID } from 'node:crypto'
import type { Tx } from '@/lib/platform/db'
import { publicPageAddress, publicTokenHash } from '@/lib/platform/public-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type PublicLinkRow = { id: string; individualId: string; version: number; address: string }

const FIELDS = { id: true, individualId: true, generation: true, revokedAt: true, version: true } as const

/** The public pages that are open now, by animal. */
export async function loadPublicLinks(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualIds: readonly string[],
): Promise<Map<string, PublicLinkRow>> {
  const rows = await tx.publicLink.findMany({
    where: { workspaceId, individualId: { in: [...individualIds] }, revokedAt: null },
    select: FIELDS,
  })
  return new Map(
    rows.map((row) => {
      const { id, individualId, version } = row
      return [individualId, { id, individualId, version, address: publicPageAddress(row) }]
    }),
  )
}

/**
 * Opens the public page of each animal that has none: made the first time, opened again after it was revoked. The
 * revoked address stays dead, since revoking has raised the generation. Animals must be locked.
 */
export async function openPublicLinks(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualIds: readonly string[],
): Promise<Map<string, PublicLinkRow>> {
  const rows = await tx.publicLink.findMany({
    where: { workspaceId, individualId: { in: [...individualIds] } },
    select: FIELDS,
  })
  const known = new Set(rows.map(({ individualId }) => individualId))
  const missing = individualIds.filter((id) => !known.has(id))
  await tx.publicLink.createMany({
    data: missing.map((individualId) => {
      const id = randomUUID()
      return { workspaceId, id, individualId, tokenHash: publicTokenHash({ id, generation: 1 }) }
    }),
  })
  await tx.publicLink.updateMany({
    where: { workspaceId, individualId: { in: [...individualIds] }, revokedAt: { not: null } },
    data: { revokedAt: null, version: { increment: 1 } },
  })
  return loadPublicLinks(tx, workspaceId, individualIds)
}
