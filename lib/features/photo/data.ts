import type { PhotoAnswer } from '@/lib/features/photo/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { readPictures } from '@/lib/platform/files'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type PhotoRow = {
  id: string
  individualId: string
  widthPx: number
  heightPx: number
  onSheet: boolean
  version: number
  createdAt: Date
}

const FIELDS = {
  id: true,
  individualId: true,
  widthPx: true,
  heightPx: true,
  onSheet: true,
  version: true,
  createdAt: true,
} as const

/** The photos of an animal that are kept, newest first; the pictures themselves are not read. */
export function listPhotos(tx: Tx, workspaceId: WorkspaceId, individualId: string): Promise<PhotoRow[]> {
  return tx.photo.findMany({
    where: { workspaceId, individualId, archivedAt: null },
    select: FIELDS,
    orderBy: { id: 'desc' },
  })
}

export function presentPhoto({ id, individualId, createdAt, ...photo }: PhotoRow): PhotoAnswer {
  const { widthPx, heightPx, onSheet, version } = photo
  return {
    id,
    individual: individualId,
    addedAt: createdAt.toISOString(),
    widthPx,
    heightPx,
    onSheet,
    version,
  }
}

/**
 * One photo of one animal as it is stored.
 * @throws AppError not-found, also for one that was taken away
 */
export async function requirePhotoBytes(
  tx: Tx,
  workspaceId: WorkspaceId,
  { photoId, individualId }: { photoId: string; individualId: string },
): Promise<Uint8Array> {
  const where = { workspaceId, id: photoId, individualId, archivedAt: null }
  const photo = await tx.photo.findFirst({ where, select: { id: true } })
  const bytes = photo && (await readPictures(tx, { workspaceId, photoIds: [photo.id] }, 'full')).get(photo.id)
  if (!bytes) throw refuseUnknown('photo')
  return bytes
}

export type SheetPhoto = { bytes: Uint8Array; kind: 'jpg' }

/** The photo that each animal's sheet shows, in the size for paper, by animal. */
export async function loadSheetPhotos(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualIds: readonly string[],
): Promise<Map<string, SheetPhoto>> {
  const chosen = await tx.photo.findMany({
    where: { workspaceId, individualId: { in: [...individualIds] }, onSheet: true, archivedAt: null },
    select: { individualId: true, content: { select: { small: true } } },
  })
  return new Map(
    chosen.flatMap(({ individualId, content }) =>
      content ? [[individualId, { bytes: content.small, kind: 'jpg' as const }]] : [],
    ),
  )
}

const GONE: ('dead' | 'escaped')[] = ['dead', 'escaped']

/** The photo that an animal's public page shows; null where none was chosen. */
export async function loadPublicPhoto(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualId: string,
): Promise<Uint8Array | null> {
  // Of an animal that died there is no public page, and so no photo on one.
  const individual = { whereabouts: { notIn: GONE } }
  const chosen = await tx.photo.findFirst({
    where: { workspaceId, individualId, onSheet: true, archivedAt: null, individual },
    select: { id: true },
  })
  if (!chosen) return null
  return (await readPictures(tx, { workspaceId, photoIds: [chosen.id] }, 'full')).get(chosen.id) ?? null
}
