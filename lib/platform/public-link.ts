import { authPool } from '@/lib/platform/auth-database'
import { env } from '@/lib/platform/env'
import { hashSecret, publicLinkToken } from '@/lib/platform/secret'
import { mintScope, type Scope } from '@/lib/platform/workspace'

const TOKEN = /^[\w-]{20,60}$/

/** The one thing that a sheet, and the page behind its code, is about. */
export type SheetSubject =
  | { kind: 'individual'; id: string }
  | { kind: 'egg-case'; id: string }
  | { kind: 'lot'; id: string }
/** What a public page is about: one thing, or the list of what is for sale. */
export type PublicSubject = SheetSubject | { kind: 'for-sale'; saysCounts: boolean }

type Found = {
  workspaceId: string
  individualId: string | null
  eggCaseId: string | null
  lotId: string | null
  forSale: boolean
  saysCounts: boolean
}

/**
 * What a public link leads to, asked before any workspace is known. Unknown, revoked and misspelt look the same:
 * undefined. Whoever follows it reads one object and is nobody in particular.
 */
export async function lookUpPublicLink(
  token: string,
): Promise<{ scope: Scope; subject: PublicSubject } | undefined> {
  if (!TOKEN.test(token)) return undefined
  const found = await authPool().query<Found>(
    `select l.workspace_id as "workspaceId", l.individual_id as "individualId", l.egg_case_id as "eggCaseId",
       l.lot_id as "lotId", l.for_sale as "forSale", l.says_counts as "saysCounts" from public_link l
     join workspace w on w.workspace_id = l.workspace_id and w.archived_at is null
     where l.token_hash = $1 and l.revoked_at is null`,
    [Buffer.from(hashSecret(token))],
  )
  const row = found.rows[0]
  const subject = row && subjectOf(row)
  if (!subject) return undefined
  const scope = mintScope({ workspaceId: row.workspaceId, personId: null, role: 'viewer' })
  return { scope, subject }
}

function subjectOf({ individualId, eggCaseId, lotId, ...list }: Found): PublicSubject | undefined {
  if (list.forSale) return { kind: 'for-sale', saysCounts: list.saysCounts }
  if (individualId) return { kind: 'individual', id: individualId }
  if (eggCaseId) return { kind: 'egg-case', id: eggCaseId }
  return lotId ? { kind: 'lot', id: lotId } : undefined
}

/** The address of a public page, as it stands in the code on a sheet. */
export function publicPageAddress(link: { id: string; generation: number }): string {
  return new URL(`/p/${publicLinkToken(link.id, link.generation)}`, env().PUBLIC_ADDRESS).href
}

/** The address of the list of what is for sale. */
export function publicListAddress(link: { id: string; generation: number }): string {
  return `${publicPageAddress(link)}/for-sale`
}

export function publicTokenHash(link: { id: string; generation: number }): Uint8Array<ArrayBuffer> {
  return hashSecret(publicLinkToken(link.id, link.generation))
}
