import { createCareSheets } from '@/lib/features/care-sheet/mutations'
import { careSheetApi } from '@/lib/features/care-sheet/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(careSheetApi.create, async ({ tx, scope, workspace, body }) => ({
  items: await createCareSheets(tx, { scope, workspace }, body),
}))
