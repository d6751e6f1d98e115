import { lockIndividual } from '@/lib/features/individual/data'
import { listPhotos, type PhotoRow } from '@/lib/features/photo/data'
import type { AddPhoto, ArchivePhoto, ChoosePhoto } from '@/lib/features/photo/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { keepPicture, remakePicture } from '@/lib/platform/files'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

/** More than anybody looks at; a phone that sends on its own would fill a disk otherwise. */
const MOST_PHOTOS = 40

/**
 * Keeps a photo of an animal. The first one goes on its sheet; another is chosen by hand.
 * @throws AppError invalid for what is no picture, or beyond forty photos of one animal
 */
export async function createPhoto(
  tx: Tx,
  { scope, workspace: { workspaceId } }: Actor,
  { individual, picture }: AddPhoto,
): Promise<PhotoRow> {
  const remade = await remakePicture(Buffer.from(picture, 'base64'))
  const { id: individualId } = await lockIndividual(tx, workspaceId, individual)
  const present = await listPhotos(tx, workspaceId, individualId)
  if (present.length >= MOST_PHOTOS)
    throw new AppError('invalid', `At most ${MOST_PHOTOS} photos of one animal: take one away first.`)
  const { widthPx, heightPx } = remade
  const onSheet = !present.some((photo) => photo.onSheet)
  const photo = await tx.photo.create({
    data: { workspaceId, individualId, widthPx, heightPx, onSheet, addedBy: scope.personId },
  })
  await keepPicture(tx, { workspaceId, photoId: photo.id }, remade)
  return photo
}

/**
 * Puts a photo on the sheet and the public page, or takes it off them. One animal has one there.
 * @throws AppError stale when somebody else changed it first
 */
export async function updatePhoto(
  tx: Tx,
  workspaceId: WorkspaceId,
  { photo, version, onSheet }: ChoosePhoto,
): Promise<void> {
  const present = await requirePhoto(tx, workspaceId, photo)
  await lockIndividual(tx, workspaceId, present.individualId)
  if (onSheet)
    await tx.photo.updateMany({
      where: { workspaceId, individualId: present.individualId, onSheet: true, id: { not: photo } },
      data: { onSheet: false, version: { increment: 1 } },
    })
  const changed = await tx.photo.updateMany({
    where: { workspaceId, id: photo, version, archivedAt: null },
    data: { onSheet, version: { increment: 1 } },
  })
  if (changed.count === 0) throw refuseStale()
}

/** Takes a photo away: it is shown nowhere any more. @throws AppError stale */
export async function archivePhoto(
  tx: Tx,
  workspaceId: WorkspaceId,
  { photo, version }: ArchivePhoto,
): Promise<void> {
  await requirePhoto(tx, workspaceId, photo)
  const changed = await tx.photo.updateMany({
    where: { workspaceId, id: photo, version, archivedAt: null },
    data: { archivedAt: new Date(), onSheet: false, version: { increment: 1 } },
  })
  if (changed.count === 0) throw refuseStale()
}

async function requirePhoto(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<{ individualId: string }> {
  const found = await tx.photo.findFirst({ where: { workspaceId, id }, select: { individualId: true } })
  if (!found) throw refuseUnknown('photo')
  return found
}

function refuseStale(): AppError {
  return new AppError('stale', 'Somebody else changed this photo meanwhile. Look again.')
}
