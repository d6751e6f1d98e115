import { requireIndividual } from '@/lib/features/individual/data'
import { listPhotos, presentPhoto } from '@/lib/features/photo/data'
import { createPhoto } from '@/lib/features/photo/mutations'
import { photoApi } from '@/lib/features/photo/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(photoApi.create, async ({ tx, scope, workspace, params, body }) =>
  presentPhoto(await createPhoto(tx, { scope, workspace }, { individual: params.id, ...body })),
)

export const GET = apiRoute(photoApi.list, async ({ tx, workspace: { workspaceId }, params }) => {
  const { id } = await requireIndividual(tx, workspaceId, params.id)
  return { items: (await listPhotos(tx, workspaceId, id)).map(presentPhoto) }
})
