import { loadRestorer } from '@/lib/features/workspace-copy/data'
import { restoreWorkspaceCopy } from '@/lib/features/workspace-copy/mutations'
import { LARGEST_FILE_BYTES, workspaceCopyApi } from '@/lib/features/workspace-copy/schema'
import { apiUploadRoute } from '@/lib/platform/api/file-route'

export const POST = apiUploadRoute(
  workspaceCopyApi.restore,
  async ({ tx, scope, workspace, query }) => ({
    place: query,
    person: await loadRestorer(tx, workspace.workspaceId, String(scope.personId)),
  }),
  {
    most: LARGEST_FILE_BYTES,
    take: (path, { place, person }) => restoreWorkspaceCopy({ path, place, person }),
  },
)
