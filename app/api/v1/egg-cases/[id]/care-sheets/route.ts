import { createEggCaseSheet } from '@/lib/features/egg-case-sheet/mutations'
import { eggCaseSheetApi } from '@/lib/features/egg-case-sheet/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(eggCaseSheetApi.create, ({ tx, scope, workspace, params, body }) =>
  createEggCaseSheet(tx, { scope, workspace }, { eggCase: params.id, ...body }),
)
