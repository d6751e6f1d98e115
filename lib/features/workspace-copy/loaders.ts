import type { Writable } from 'node:stream'
import { takeWorkspaceCopy } from '@/lib/features/workspace-copy/data'
import type { Restorer } from '@/lib/features/workspace-copy/schema'
import { readSignedIn } from '@/lib/platform/current-session'
import { inWorkspace, requireScope, type Workspace } from '@/lib/platform/workspace'

export type WorkspaceCopy = { name: string; write: (out: Writable) => Promise<void> }

/** What a file with everything is called, and how it is written. */
export function presentCopy(workspace: Workspace): WorkspaceCopy {
  const { slug, today } = workspace
  return { name: `${slug}-${today}.zip`, write: (out) => takeWorkspaceCopy(workspace, out) }
}

export async function loadWorkspaceCopy(slug: string): Promise<WorkspaceCopy> {
  const scope = await requireScope(slug, 'workspace:copy')
  return inWorkspace(scope, async (_tx, workspace) => presentCopy(workspace))
}

/** Who is signed in, as the owner of what is taken back. */
export async function loadRestorerHere(): Promise<Restorer | undefined> {
  const person = await readSignedIn()
  return person && { personId: person.personId, name: person.name, email: person.email }
}
