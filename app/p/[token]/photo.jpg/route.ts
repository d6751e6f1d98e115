import { loadPublicPicture } from '@/lib/features/public-link/loaders'
import { pictureResponse } from '@/lib/platform/picture-response'

type Context = { params: Promise<{ token: string }> }

/** The photo that the seller chose for the sheet. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { token } = await params
  return pictureResponse(await loadPublicPicture(token))
}
