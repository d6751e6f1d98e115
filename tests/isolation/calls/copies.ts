import { loadRestorer, takeWorkspaceCopy } from '@/lib/features/workspace-copy/data'
import { readWhole } from '@/tests/support/workspace-file'
import type { Calls } from './call'

export const COPY_READS: Calls = {
  'workspace-copy/data takeWorkspaceCopy': (_tx, { workspace }) =>
    readWhole((out) => takeWorkspaceCopy(workspace, out)),
  'workspace-copy/data loadRestorer': (tx, { workspace }, id) =>
    loadRestorer(tx, workspace.workspaceId, id.person),
}
