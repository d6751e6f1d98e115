import { authPool } from '@/lib/platform/auth-database'
import { inAuthTransaction } from '@/lib/platform/auth-transaction'
import { env } from '@/lib/platform/env'
import { createSecret, hashSecret } from '@/lib/platform/secret'

export const RESET_MINUTES = 10

const OPEN = 'r.used_at is null and r.expires_at > now()'

/** A new way back in for a person. The token is in the answer alone: the database holds its hash. */
export async function createPasswordReset(personId: string): Promise<string> {
  const token = createSecret()
  await authPool().query(
    `with gone as (delete from password_reset where person_id = $1 and expires_at < now() - interval '1 day')
     insert into password_reset (person_id, token_hash, expires_at)
     values ($1, $2, now() + make_interval(mins => $3))`,
    [personId, Buffer.from(hashSecret(token)), RESET_MINUTES],
  )
  return token
}

/** The address comes from the settings, never from a request, which anyone may address to another host. */
export function resetAddress(token: string): string {
  return new URL(`/reset-password/${token}`, env().PUBLIC_ADDRESS).href
}

/** Whose password an open link sets. Reading it uses nothing up. */
export async function lookUpPasswordReset(token: string): Promise<{ email: string } | undefined> {
  const found = await authPool().query<{ email: string }>(
    `select p.email::text as email from password_reset r join person p on p.id = r.person_id
     where r.token_hash = $1 and ${OPEN}`,
    [Buffer.from(hashSecret(token))],
  )
  return found.rows[0]
}

/**
 * Sets the password, once: of several who come with one link the first to change its row wins. Every device is
 * signed out and every other open link of the person ends with it.
 */
export function takePasswordReset(token: string, passwordHash: string): Promise<'done' | 'spent'> {
  return inAuthTransaction(async (client) => {
    const taken = await client.query<{ personId: string }>(
      `update password_reset r set used_at = now() where r.token_hash = $1 and ${OPEN}
       returning r.person_id as "personId"`,
      [Buffer.from(hashSecret(token))],
    )
    const personId = taken.rows[0]?.personId
    if (!personId) return 'spent'
    // The link was sent there, so whoever used it reads that mail.
    await client.query(
      'update person set password_hash = $2, confirmed_at = coalesce(confirmed_at, now()) where id = $1',
      [personId, passwordHash],
    )
    await endEverything(client, { personId, exceptSession: null })
    return 'done'
  })
}

type Connection = Parameters<Parameters<typeof inAuthTransaction>[0]>[0]

/**
 * What a changed password ends: devices, and links that would set another one. After the change of the person's row
 * and in a statement of its own, so that a device which signed in meanwhile with the old password is seen here.
 */
export async function endEverything(
  client: Connection,
  { personId, exceptSession }: { personId: string; exceptSession: string | null },
): Promise<void> {
  await client.query(
    `update login_session set ended_at = now()
     where person_id = $1 and ended_at is null and id is distinct from $2::uuid`,
    [personId, exceptSession],
  )
  await client.query('update password_reset set used_at = now() where person_id = $1 and used_at is null', [
    personId,
  ])
}
