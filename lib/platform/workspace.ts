import { headers } from 'next/headers'
import { forbidden, notFound, redirect } from 'next/navigation'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { isAllowed, type Permission, type Role } from '@/lib/domain/role/permissions'
import { readMembership } from '@/lib/platform/current-session'
import { inTransaction, type Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import { todayIn } from '@/lib/platform/plain-date'
import { ADDRESS_HEADER, moveAddress } from '@/lib/platform/web-policy'

declare const minted: unique symbol

/** Only the gates make one, from a membership, token or link that they have just read. */
export type WorkspaceId = string & { readonly [minted]: 'workspace' }
export type PersonId = string & { readonly [minted]: 'person' }

/** Who acts, where, and as what. */
export type Scope = {
  workspaceId: WorkspaceId
  personId: PersonId | null
  apiTokenId: string | null
  role: Role
}

/** What the gate has just read from a membership, a token or an invitation, as a scope. */
export function mintScope(read: {
  workspaceId: string
  personId: string | null
  apiTokenId?: string | null
  role: Role
}): Scope {
  return {
    workspaceId: read.workspaceId as WorkspaceId,
    personId: read.personId as PersonId | null,
    apiTokenId: read.apiTokenId ?? null,
    role: read.role,
  }
}

/** The workspace's own settings and its today, read at the start of a transaction. */
export type Workspace = {
  workspaceId: WorkspaceId
  name: string
  slug: string
  timeZone: string
  country: string
  currency: string
  language: string
  instarConvention: 'hatchling_is_first' | 'hatchling_is_second'
  instarStyle: 'ordinal' | 'l_number'
  temperatureUnit: 'celsius' | 'fahrenheit'
  lengthUnit: 'millimetre' | 'inch'
  contact: string
  claimTerms: string
  foodText: string
  labelKey: number
  demoAnchorOn: Date | null
  version: number
  today: PlainDate
}

/** Who writes, and the workspace as it stands in this transaction: what every change needs. */
export type Actor = { scope: Scope; workspace: Workspace }

/** One transaction for one request: the workspace is set, its settings are read, then the work runs. */
export function inWorkspace<T>(scope: Scope, work: (tx: Tx, workspace: Workspace) => Promise<T>): Promise<T> {
  return inTransaction(scope, (tx, entered) => {
    invariant(entered, 'a workspace that was just looked up is there')
    const { workspaceId } = scope
    return work(tx, { ...entered, workspaceId, today: todayIn(entered.timeZone) })
  })
}

export type PageScope = Scope & { slug: string; personName: string }

/**
 * The gate of every page inside a workspace. Sends a stranger to sign in, answers 404 for a workspace that is not
 * theirs, 403 for a role that may not, and redirects an address the workspace has left behind.
 */
export async function requireScope(slug: string, permission: Permission): Promise<PageScope> {
  const read = await readMembership(slug)
  const address = (await headers()).get(ADDRESS_HEADER)
  if (!read) redirect(`/sign-in?next=${encodeURIComponent(moveAddress(address, { from: slug, to: slug }))}`)
  if (!read.workspaceId || !read.role || !read.presentSlug) notFound()
  if (read.presentSlug !== slug) redirect(moveAddress(address, { from: slug, to: read.presentSlug }))
  if (read.lacksSecondFactor) redirect('/account?wanted=second-factor')
  if (!isAllowed(read.role, permission)) forbidden()
  const scope = mintScope({ workspaceId: read.workspaceId, personId: read.personId, role: read.role })
  return { ...scope, slug, personName: read.name }
}
