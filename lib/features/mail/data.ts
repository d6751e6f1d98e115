import type { Tx } from '@/lib/platform/db'
import { writeMailText } from '@/lib/platform/invitation-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type MailRow = {
  id: string
  to: string
  subject: string
  text: string
  createdAt: string
  sentAt: string | null
  failure: string | null
}

/** The mails that the service wrote here, the newest first, as they are or would be sent. */
export async function listMails(tx: Tx, workspaceId: WorkspaceId): Promise<MailRow[]> {
  const rows = await tx.mailMessage.findMany({
    where: { workspaceId },
    orderBy: { createdAt: 'desc' },
    take: 100,
  })
  return rows.map((row) => ({
    id: row.id,
    to: row.toAddress,
    subject: row.subject,
    text: writeMailText(row),
    createdAt: row.createdAt.toISOString(),
    sentAt: row.sentAt?.toISOString() ?? null,
    failure: row.failure,
  }))
}
