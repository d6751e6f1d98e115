import { listMails, type MailRow } from '@/lib/features/mail/data'
import { hasMailServer } from '@/lib/platform/mail'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type MailsPage = { workspaceName: string; timeZone: string; hasServer: boolean; mails: MailRow[] }

export async function loadMailsPage(slug: string): Promise<MailsPage> {
  const scope = await requireScope(slug, 'mail:read')
  return inWorkspace(scope, async (tx, { name, timeZone }) => ({
    workspaceName: name,
    timeZone,
    hasServer: hasMailServer(),
    mails: await listMails(tx, scope.workspaceId),
  }))
}
