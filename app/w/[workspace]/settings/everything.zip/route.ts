import { loadWorkspaceCopy } from '@/lib/features/workspace-copy/loaders'
import { zipResponse } from '@/lib/platform/file-stream'

type Context = { params: Promise<{ workspace: string }> }

export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { workspace } = await params
  const { name, write } = await loadWorkspaceCopy(workspace)
  return zipResponse(name, write)
}
