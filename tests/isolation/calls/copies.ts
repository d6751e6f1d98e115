import { archiveWorkspace, restoreArchivedWorkspace } from '@/lib/features/workspace-archive/mutations'
import { loadRestorer, takeWorkspaceCopy } from '@/lib/features/workspace-copy/data'
import { readWhole } from '@/tests/support/workspace-file'
import type { Calls } from './call'

export const COPY_READS: Calls = {
  'workspace-copy/data takeWorkspaceCopy': (_tx, { workspace }) =>
    readWhole((out) => takeWorkspaceCopy(workspace, out)),
  'workspace-copy/data loadRestorer': (tx, { workspace }, id) =>
    loadRestorer(tx, workspace.workspaceId, id.person),
}

export const COPY_WRITES: Calls = {
  'workspace-archive/mutations archiveWorkspace': (tx, { workspace }) =>
    archiveWorkspace(tx, workspace, { name: workspace.name, version: workspace.version }),
  'workspace-archive/mutations restoreArchivedWorkspace': (tx, { workspace }) =>
    restoreArchivedWorkspace(tx, workspace.workspaceId),
}
