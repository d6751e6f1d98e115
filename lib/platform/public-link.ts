import { authPool } from '@/lib/platform/auth-database'
import { env } from '@/lib/platform/env'
import { hashSecret, publicLinkToken } from '@/lib/platform/secret'
import { mintScope, type Scope } from '@/lib/platform/workspace'

const TOKEN = /^[\w-]{20,60}$/

/**
 * What a public link leads to, asked before any workspace is known. Unknown, revoked and misspelt look the same:
 * undefined. Whoever follows it reads one object and is nobody in particular.
 */
export async function lookUpPublicLink(
  token: string,
): Promise<{ scope: Scope; individualId: string } | undefined> {
  if (!TOKEN.test(token)) return undefined
  const found = await authPool().query<{ workspaceId: string; individualId: string }>(
    `select workspace_id as "workspaceId", individual_id as "individualId" from public_link
     where token_hash = $1 and revoked_at is null`,
    [Buffer.from(hashSecret(token))],
  )
  const row = found.rows[0]
  if (!row) return undefined
  const scope = mintScope({ workspaceId: row.workspaceId, personId: null, role: 'viewer' })
  return { scope, individualId: row.individualId }
}

/** The address of a public page, as it stands in the code on a sheet. */
export function publicPageAddress(link: { id: string; generation: number }): string {
  return new URL(`/p/${publicLinkToken(link.id, link.generation)}`, env().PUBLIC_ADDRESS).href
}

export function publicTokenHash(link: { id: string; generation: number }): Uint8Array<ArrayBuffer> {
  return hashSecret(publicLinkToken(link.id, link.generation))
}
