import { loadPhotoForPage } from '@/lib/features/photo/loaders'
import { pictureResponse } from '@/lib/platform/picture-response'

type Context = { params: Promise<{ workspace: string; id: string; photo: string }> }

export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { workspace, id, photo } = await params
  return pictureResponse(await loadPhotoForPage(workspace, { individual: id, photo }))
}
