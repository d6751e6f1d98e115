import { listRegister } from '@/lib/features/register/data'
import { registerApi } from '@/lib/features/register/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(registerApi.animals, async ({ tx, workspace, query }) => {
  const rows = await listRegister(tx, workspace.workspaceId, query)
  return onePage(rows.map(({ speciesId, ...row }) => ({ species: speciesId, ...row })))
})
