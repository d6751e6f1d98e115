import { type DescribedChange, describeChange } from '@/lib/domain/audit/wording'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type AuditRow = DescribedChange & { id: string; at: string; who: string }

const PAGE = 50

type AuditQuestion = {
  /** The oldest entry already seen. */
  before?: string
  /** In which amounts of money are written. */
  currency: string
}

/** What was done here, the newest first. */
export async function listAuditEntries(
  tx: Tx,
  workspaceId: WorkspaceId,
  { before, currency }: AuditQuestion,
): Promise<{ entries: AuditRow[]; older: string | null }> {
  const rows = await tx.auditEntry.findMany({
    where: { workspaceId, ...(before ? { id: { lt: before } } : {}) },
    include: { person: { select: { displayName: true } } },
    orderBy: { id: 'desc' },
    take: PAGE + 1,
  })
  const tokens = await tx.apiToken.findMany({ where: { workspaceId }, select: { id: true, name: true } })
  const people = await tx.membership.findMany({
    where: { workspaceId },
    select: { personId: true, displayName: true },
  })
  const nameOfPerson = new Map(people.map((one) => [one.personId, one.displayName]))
  const nameOfToken = new Map(tokens.map((token) => [token.id, token.name]))
  const entries = rows.slice(0, PAGE).map(({ id, at, person, apiTokenId, ...change }) => ({
    id,
    at: at.toISOString(),
    who: apiTokenId
      ? `token “${nameOfToken.get(apiTokenId) ?? 'unknown'}”`
      : (person?.displayName ?? 'the service'),
    ...describeChange(change, { nameOfPerson, currency }),
  }))
  return { entries, older: rows.length > PAGE ? (entries.at(-1)?.id ?? null) : null }
}
