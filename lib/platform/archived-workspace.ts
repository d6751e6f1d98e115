import { authPool } from '@/lib/platform/auth-database'
import { mintScope, type Scope } from '@/lib/platform/workspace'

/** So long a deleted workspace can be taken back. */
export const DAYS_TO_TAKE_BACK = 30

export type ArchivedWorkspace = { workspaceId: string; name: string; slug: string; untilAt: Date }

const OWN = `from workspace w
  join membership m on m.workspace_id = w.workspace_id and m.role = 'owner' and m.ended_at is null
  where m.person_id = $1 and w.archived_at > now() - make_interval(days => ${DAYS_TO_TAKE_BACK})`

/** What a person deleted as its owner, or another owner did, while it can still be taken back. */
export async function listArchivedWorkspaces(personId: string): Promise<ArchivedWorkspace[]> {
  const { rows } = await authPool().query<ArchivedWorkspace>(
    `select w.workspace_id as "workspaceId", w.name, w.slug,
       w.archived_at + make_interval(days => ${DAYS_TO_TAKE_BACK}) as "untilAt" ${OWN} order by w.archived_at desc`,
    [personId],
  )
  return rows
}

/** The way back into one of them, for an owner alone. */
export async function lookUpArchived(personId: string, workspaceId: string): Promise<Scope | undefined> {
  const { rows } = await authPool().query<{ workspaceId: string }>(
    `select w.workspace_id as "workspaceId" ${OWN} and w.workspace_id = $2`,
    [personId, workspaceId],
  )
  return rows[0] && mintScope({ workspaceId: rows[0].workspaceId, personId, role: 'owner' })
}

/** A deleted workspace by its address, for whoever runs the service. */
export async function lookUpDeleted(
  slug: string,
): Promise<{ workspaceId: string; name: string } | undefined> {
  const { rows } = await authPool().query<{ workspaceId: string; name: string }>(
    `select workspace_id as "workspaceId", name from workspace where slug = $1 and archived_at is not null`,
    [slug],
  )
  return rows[0]
}
