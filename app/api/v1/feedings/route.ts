import { recordFeedings } from '@/lib/features/feeding/mutations'
import { feedingApi } from '@/lib/features/feeding/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(feedingApi.create, ({ tx, workspace, body }) =>
  recordFeedings(tx, workspace, body),
)
