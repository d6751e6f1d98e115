import { loadPastWindowsAnswer } from '@/lib/features/past-window/loaders'
import { pastWindowApi } from '@/lib/features/past-window/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(pastWindowApi.load, ({ tx, workspace, query }) =>
  loadPastWindowsAnswer(tx, workspace, query),
)
