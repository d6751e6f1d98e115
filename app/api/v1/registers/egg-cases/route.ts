import { listEggCaseRegister } from '@/lib/features/register/data'
import { registerApi } from '@/lib/features/register/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(registerApi.eggCases, async ({ tx, workspace, query }) => {
  const rows = await listEggCaseRegister(tx, workspace.workspaceId, query)
  return onePage(rows.map(({ speciesId, ...row }) => ({ species: speciesId, ...row })))
})
