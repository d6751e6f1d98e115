import type { Role } from '@/lib/domain/role/permissions'
import { authPool } from '@/lib/platform/auth-database'
import { AppError } from '@/lib/platform/errors'
import { hashSecret } from '@/lib/platform/secret'
import { countAttempt } from '@/lib/platform/throttle'
import { mintScope, type Scope } from '@/lib/platform/workspace'

type TokenRow = { workspaceId: string; apiTokenId: string; personId: string; role: Role }

/**
 * The scope of a bearer token, counted against its limit.
 * @throws AppError unauthorised for none, unknown, expired or revoked; too-many past the limit
 */
export async function requireToken(authorization: string | null): Promise<Scope> {
  const token = authorization?.match(/^Bearer ([\w-]{20,200})$/)?.[1]
  if (!token) throw new AppError('unauthorised', 'Send a token: Authorization: Bearer …')
  const found = await authPool().query<TokenRow>(
    `select t.workspace_id as "workspaceId", t.id as "apiTokenId", t.person_id as "personId", t.role
     from api_token t
     join membership m on m.workspace_id = t.workspace_id and m.person_id = t.person_id and m.ended_at is null
     join workspace w on w.workspace_id = t.workspace_id and w.archived_at is null
     where t.token_hash = $1 and t.revoked_at is null and t.expires_at > now()`,
    [Buffer.from(hashSecret(token))],
  )
  const row = found.rows[0]
  if (!row) throw new AppError('unauthorised', 'This token is unknown, expired or revoked.')
  await countAttempt('api-token', row.apiTokenId)
  return mintScope(row)
}
