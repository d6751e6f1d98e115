import { authPool } from '@/lib/platform/auth-database'
import { inAuthTransaction } from '@/lib/platform/auth-transaction'
import { AppError } from '@/lib/platform/errors'
import { endEverything } from '@/lib/platform/password-reset'

export type PersonForSignIn = {
  id: string
  name: string
  email: string
  passwordHash: string
  hasSecondFactor: boolean
}

export async function getPersonForSignIn(email: string): Promise<PersonForSignIn | undefined> {
  const found = await authPool().query<PersonForSignIn>(
    `select id, name, email::text as email, password_hash as "passwordHash",
       totp_since is not null as "hasSecondFactor"
     from person where email = $1`,
    [email.trim()],
  )
  return found.rows[0]
}

/**
 * Adds a person. `isConfirmed` says that whoever runs the service vouches for the address.
 * @throws AppError name-taken when the address already has an account
 */
export async function createPerson(person: {
  name: string
  email: string
  passwordHash: string
  isConfirmed?: boolean
}): Promise<string> {
  const made = await authPool().query<{ id: string }>(
    `insert into person (name, email, password_hash, confirmed_at) values ($1, $2, $3, case when $4 then now() end)
     on conflict (email) do nothing returning id`,
    [person.name.trim(), person.email.trim(), person.passwordHash, person.isConfirmed ?? false],
  )
  const row = made.rows[0]
  if (!row)
    throw new AppError('name-taken', 'This address cannot be used for a new account. Sign in instead?')
  return row.id
}

export async function getPasswordHash(personId: string): Promise<string | undefined> {
  const found = await authPool().query<{ passwordHash: string }>(
    'select password_hash as "passwordHash" from person where id = $1',
    [personId],
  )
  return found.rows[0]?.passwordHash
}

/**
 * A new password in place of the one that was just proved, and every other device is signed out. `changed-meanwhile`
 * where somebody was quicker.
 */
export function replacePassword(
  { personId, sessionId }: { personId: string; sessionId: string },
  hashes: { before: string; after: string },
): Promise<'done' | 'changed-meanwhile'> {
  return inAuthTransaction(async (client) => {
    const changed = await client.query(
      'update person set password_hash = $2 where id = $1 and password_hash = $3',
      [personId, hashes.after, hashes.before],
    )
    if (changed.rowCount !== 1) return 'changed-meanwhile'
    await endEverything(client, { personId, exceptSession: sessionId })
    return 'done'
  })
}

/** The same password, stored anew; nothing where it is another one by now. */
export async function updatePasswordHash(
  personId: string,
  hashes: { before: string; after: string },
): Promise<void> {
  await authPool().query('update person set password_hash = $2 where id = $1 and password_hash = $3', [
    personId,
    hashes.after,
    hashes.before,
  ])
}
