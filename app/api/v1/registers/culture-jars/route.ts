import { listJarRegister } from '@/lib/features/register/data'
import { registerApi } from '@/lib/features/register/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

export const GET = apiRoute(registerApi.jars, async ({ tx, workspace, query }) => {
  const rows = await listJarRegister(tx, workspace.workspaceId, query)
  return onePage(rows.map(({ slug, ...row }) => ({ line: slug, ...row })))
})
