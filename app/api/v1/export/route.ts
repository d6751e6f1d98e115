import { presentCopy } from '@/lib/features/workspace-copy/loaders'
import { workspaceCopyApi } from '@/lib/features/workspace-copy/schema'
import { apiStreamRoute } from '@/lib/platform/api/file-route'

export const GET = apiStreamRoute(workspaceCopyApi.write, async ({ workspace }) => presentCopy(workspace))
