import { requirePhotoBytes } from '@/lib/features/photo/data'
import { loadPage, requireIdParam } from '@/lib/platform/page'

/** One photo of one animal, for whoever may read animals here. */
export function loadPhotoForPage(
  slug: string,
  { individual, photo }: { individual: string; photo: string },
): Promise<Uint8Array> {
  return loadPage({ slug, permission: 'individual:read' }, ({ tx, workspace }) =>
    requirePhotoBytes(tx, workspace.workspaceId, {
      individualId: requireIdParam(individual),
      photoId: requireIdParam(photo),
    }),
  )
}
