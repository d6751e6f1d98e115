import { loadApiDocument } from '@/lib/features/api-reference/loaders'

/** The same for everybody and from constants alone, so it needs no token. */
export function GET(): Response {
  return Response.json(loadApiDocument(), { headers: { 'cache-control': 'no-store' } })
}
