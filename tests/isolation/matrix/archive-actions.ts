import type { Ids } from '../calls/call'

type Inputs = Record<string, (id: Ids) => unknown>

/** Another name than its own: the workspace is needed by what comes after. */
export const DELETING: Inputs = {
  'workspace-archive/actions archiveWorkspaceAction': () => ({ version: 1, name: 'Another one' }),
}
export const TAKING_BACK: Inputs = {
  'workspace-archive/actions takeBackWorkspaceAction': (id) => ({ workspaceId: id.workspace }),
}
