import { listOpenInvitations, type OpenInvitation } from '@/lib/features/invitation/data'
import { listMembers, type Member } from '@/lib/features/membership/data'
import { isSecondFactorRequired } from '@/lib/features/workspace/data'
import { getUnconfirmedAddress } from '@/lib/platform/confirmation'
import { inWorkspace, requireScope } from '@/lib/platform/workspace'

export type PeoplePage = {
  workspaceName: string
  ownPersonId: string | null
  /** The reader's own address, while it is not confirmed. */
  unconfirmed: string | null
  requiresSecondFactor: boolean
  present: Member[]
  left: Member[]
  invitations: OpenInvitation[]
}

export async function loadPeoplePage(slug: string): Promise<PeoplePage> {
  const scope = await requireScope(slug, 'person:manage')
  return inWorkspace(scope, async (tx, workspace) => {
    const members = await listMembers(tx, scope.workspaceId)
    return {
      workspaceName: workspace.name,
      ownPersonId: scope.personId,
      unconfirmed: (scope.personId && (await getUnconfirmedAddress(scope.personId))) || null,
      requiresSecondFactor: await isSecondFactorRequired(tx, scope.workspaceId),
      present: members.filter((member) => member.endedAt === null),
      left: members.filter((member) => member.endedAt !== null),
      invitations: await listOpenInvitations(tx, scope.workspaceId),
    }
  })
}
