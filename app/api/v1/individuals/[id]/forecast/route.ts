import { loadForecastAnswer } from '@/lib/features/individual/loaders'
import { individualApi } from '@/lib/features/individual/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(individualApi.forecast, ({ tx, workspace, params, query }) =>
  loadForecastAnswer(tx, workspace, { id: params.id, asOf: query.asOf }),
)
