import { loadIndividualAnswer } from '@/lib/features/individual/loaders'
import { individualApi } from '@/lib/features/individual/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(individualApi.load, ({ tx, workspace, params }) =>
  loadIndividualAnswer(tx, workspace, params.id),
)
