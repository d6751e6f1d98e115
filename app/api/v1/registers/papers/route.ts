import { listPaperRegister } from '@/lib/features/register/data'
import { registerApi } from '@/lib/features/register/schema'
import { onePage } from '@/lib/platform/api/list'
import { apiRoute } from '@/lib/platform/api/route'

const MOST = 1000

export const GET = apiRoute(registerApi.papers, async ({ tx, workspace, query }) =>
  onePage(await listPaperRegister(tx, workspace.workspaceId, { ...query, limit: MOST })),
)
