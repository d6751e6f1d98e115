import { type ApiTokenRow, listApiTokens } from '@/lib/features/api-token/data'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export async function loadTokensPage(
  slug: string,
): Promise<{ workspaceName: string; tokens: ApiTokenRow[] }> {
  const scope = await requireScope(slug, 'token:manage')
  return inWorkspace(scope, async (tx, workspace) => ({
    workspaceName: workspace.name,
    tokens: await listApiTokens(tx, scope.workspaceId),
  }))
}
