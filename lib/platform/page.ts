import { notFound } from 'next/navigation'
import type { Permission } from '@/lib/domain/role/permissions'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { inWorkspace, type PageScope, requireScope, type Workspace } from '@/lib/platform/workspace'

export type PageGate = { slug: string; permission: Permission }
export type PageContext = { tx: Tx; workspace: Workspace; scope: PageScope }

/** What a page reads: the gate, then one transaction. A record that is not here is the page that is not there. */
export async function loadPage<T>(gate: PageGate, work: (context: PageContext) => Promise<T>): Promise<T> {
  const scope = await requireScope(gate.slug, gate.permission)
  try {
    return await inWorkspace(scope, (tx, workspace) => work({ tx, workspace, scope }))
  } catch (error) {
    if (error instanceof AppError && error.code === 'not-found') notFound()
    throw error
  }
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i

/** An id from an address; anything that cannot be one leads nowhere. */
export function requireIdParam(id: string): string {
  if (!UUID.test(id)) notFound()
  return id
}
