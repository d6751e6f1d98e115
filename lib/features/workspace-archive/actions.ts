'use server'

import { archiveWorkspace, restoreArchivedWorkspace } from '@/lib/features/workspace-archive/mutations'
import { archiveWorkspaceSchema, takeBackWorkspaceSchema } from '@/lib/features/workspace-archive/schema'
import { openAction, workspaceAction } from '@/lib/platform/action'
import { lookUpArchived } from '@/lib/platform/archived-workspace'
import { readSignedIn } from '@/lib/platform/current-session'
import { refuseUnknown } from '@/lib/platform/errors'
import { inWorkspace } from '@/lib/platform/workspace'

export const archiveWorkspaceAction = workspaceAction(
  { permission: 'workspace:copy', schema: archiveWorkspaceSchema },
  async ({ tx, workspace, input }) => {
    await archiveWorkspace(tx, workspace, input)
    return { value: null, warnings: [] }
  },
)

export const takeBackWorkspaceAction = openAction<typeof takeBackWorkspaceSchema, { slug: string }>(
  takeBackWorkspaceSchema,
  async ({ workspaceId }) => {
    const person = await readSignedIn()
    if (!person) return { status: 'signed-out' }
    const scope = await lookUpArchived(person.personId, workspaceId)
    if (!scope) throw refuseUnknown('workspace')
    const slug = await inWorkspace(scope, async (tx, workspace) => {
      await restoreArchivedWorkspace(tx, scope.workspaceId)
      return workspace.slug
    })
    return { status: 'done', value: { slug } }
  },
)
