import { type AuditRow, listAuditEntries } from '@/lib/features/audit/data'
import { auditQuerySchema } from '@/lib/features/audit/schema'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type AuditPage = { workspaceName: string; timeZone: string; entries: AuditRow[]; older: string | null }

export async function loadAuditPage(slug: string, query: { before?: string | string[] }): Promise<AuditPage> {
  const scope = await requireScope(slug, 'audit:read')
  const { before } = auditQuerySchema.parse({ before: query.before })
  return inWorkspace(scope, async (tx, { name, timeZone, currency }) => ({
    workspaceName: name,
    timeZone,
    ...(await listAuditEntries(tx, scope.workspaceId, { before, currency })),
  }))
}
