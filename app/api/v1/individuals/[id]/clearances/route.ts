import { createClearance } from '@/lib/features/clearance/mutations'
import { clearanceApi } from '@/lib/features/clearance/schema'
import { apiRoute } from '@/lib/platform/api/route'

export const POST = apiRoute(clearanceApi.create, async ({ tx, scope, workspace, params, body }) => {
  const made = await createClearance(tx, { scope, workspace }, { ...body, individual: params.id })
  return { ...made, warnings: [] }
})
