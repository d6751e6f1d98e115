import { randomBytes } from 'node:crypto'
import {
  encodeBase32,
  isTimedCode,
  RECOVERY_CODES,
  readCode,
  writeRecoveryCode,
} from '@/lib/domain/person/second-factor'
import { authPool } from '@/lib/platform/auth-database'
import { inAuthTransaction } from '@/lib/platform/auth-transaction'
import { seal, unseal } from '@/lib/platform/sealed'
import { hashSecret } from '@/lib/platform/secret'
import { findStep } from '@/lib/platform/timed-code'

const SECRET_BYTES = 20
const RECOVERY_BYTES = 10

/** A new secret, waiting for its first code; undefined where there is a confirmed one, which nothing replaces. */
export async function startSecondFactor(personId: string): Promise<string | undefined> {
  const secret = randomBytes(SECRET_BYTES)
  const made = await authPool().query(
    'update person set totp_secret = $2 where id = $1 and totp_since is null',
    [personId, seal(secret, personId)],
  )
  return made.rowCount === 1 ? encodeBase32(secret) : undefined
}

/** Confirms it with its first code, once, and hands out the recovery codes. */
export async function confirmSecondFactor(
  personId: string,
  typed: string,
  nowSeconds = Date.now() / 1000,
): Promise<string[] | undefined> {
  const found = await readSecret(personId)
  if (!found || found.isConfirmed) return undefined
  const step = findStep(found.secret, readCode(typed), nowSeconds)
  if (step === undefined) return undefined
  return inAuthTransaction(async (client) => {
    const taken = await client.query(
      `update person set totp_since = now(), totp_last_step = $2
       where id = $1 and totp_since is null and totp_secret = $3`,
      [personId, step, found.sealed],
    )
    return taken.rowCount === 1 ? writeCodes(client, personId) : undefined
  })
}

/** New recovery codes in place of all earlier ones. */
export function renewRecoveryCodes(personId: string): Promise<string[]> {
  return inAuthTransaction((client) => writeCodes(client, personId))
}

type Connection = Parameters<Parameters<typeof inAuthTransaction>[0]>[0]

async function writeCodes(client: Connection, personId: string): Promise<string[]> {
  const codes = Array.from({ length: RECOVERY_CODES }, () => encodeBase32(randomBytes(RECOVERY_BYTES)))
  await client.query('delete from recovery_code where person_id = $1', [personId])
  await client.query('insert into recovery_code (person_id, code_hash) select $1, unnest($2::bytea[])', [
    personId,
    codes.map((code) => Buffer.from(hashSecret(code))),
  ])
  return codes.map(writeRecoveryCode)
}

export async function endSecondFactor(personId: string): Promise<void> {
  await inAuthTransaction(async (client) => {
    await client.query(
      'update person set totp_secret = null, totp_since = null, totp_last_step = null where id = $1',
      [personId],
    )
    await client.query('delete from recovery_code where person_id = $1', [personId])
  })
}

/** A code of the app, or one of the recovery codes. Each is taken once, whoever comes second with it is refused. */
export async function takeCode(
  personId: string,
  typed: string,
  nowSeconds = Date.now() / 1000,
): Promise<boolean> {
  const code = readCode(typed)
  if (!isTimedCode(code)) {
    const used = await authPool().query(
      'update recovery_code set used_at = now() where person_id = $1 and code_hash = $2 and used_at is null',
      [personId, Buffer.from(hashSecret(code))],
    )
    return used.rowCount === 1
  }
  const found = await readSecret(personId)
  if (!found?.isConfirmed) return false
  const step = findStep(found.secret, code, nowSeconds)
  if (step === undefined) return false
  const taken = await authPool().query(
    `update person set totp_last_step = $2
     where id = $1 and totp_since is not null and (totp_last_step is null or totp_last_step < $2)`,
    [personId, step],
  )
  return taken.rowCount === 1
}

export type SecondFactor = { isOn: boolean; recoveryCodesLeft: number }

export async function getSecondFactor(personId: string): Promise<SecondFactor> {
  const found = await authPool().query<SecondFactor>(
    `select p.totp_since is not null as "isOn",
       (select count(*)::int from recovery_code c where c.person_id = p.id and c.used_at is null)
         as "recoveryCodesLeft"
     from person p where p.id = $1`,
    [personId],
  )
  return found.rows[0] ?? { isOn: false, recoveryCodesLeft: 0 }
}

async function readSecret(personId: string) {
  const found = await authPool().query<{ sealed: Buffer; isConfirmed: boolean }>(
    `select totp_secret as sealed, totp_since is not null as "isConfirmed"
     from person where id = $1 and totp_secret is not null`,
    [personId],
  )
  const row = found.rows[0]
  return row && { ...row, secret: unseal(row.sealed, personId) }
}
