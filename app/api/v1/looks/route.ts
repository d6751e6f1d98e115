import { recordLooks } from '@/lib/features/look/mutations'
import { lookApi } from '@/lib/features/look/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(lookApi.create, ({ tx, scope, workspace, body }) =>
  recordLooks(tx, { scope, workspace }, body),
)
