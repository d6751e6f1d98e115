import { randomUUID } from 'node:crypto'
import { hash } from '@node-rs/argon2'
import { encode } from 'next-auth/jwt'
import type pg from 'pg'
import { isAllowed, type Permission, ROLES, type Role } from '@/lib/domain/role/permissions'
import { createSecret, hashSecret } from '@/lib/platform/secret'
import { createSession } from '@/lib/platform/session'
import type { Stock } from '../stock'

/** Somebody who asks: by a cookie at the pages, by a token at the API. Nobody has neither. */
export type Caller = { cookie?: string; token?: string }

export type Callers = {
  nobody: Caller
  neighbour: Caller
  removed: Caller
  expired: Caller
  owner: Caller
  /** Members of the own workspace, by role. */
  members: Record<Role, Caller>
}

const COOKIE = 'oothecary-session'

async function signIn(personId: string): Promise<{ cookie: string; secret: string }> {
  const secret = await createSession(personId, 'a test')
  const jwt = await encode({ token: { secret }, secret: String(process.env.AUTH_SECRET) })
  return { cookie: `${COOKIE}=${jwt}`, secret }
}

/** People, devices and tokens around two workspaces: everybody a request can come from. */
export async function makeCallers(
  client: pg.Client,
  pair: { own: Stock; neighbour: Stock },
): Promise<Callers> {
  const { own, neighbour } = pair
  // As a stored password looks: what asks for the present one compares it with this.
  const passwordHash = await hash('the password of nobody here', { memoryCost: 1024, timeCost: 1 })
  const person = async (id: string, mark: string) =>
    void (await client.query(
      `insert into person (id, name, email, password_hash, confirmed_at) values ($1, $2, $3, $4, now())`,
      [id, `${mark} person`, `${id}@example.test`, passwordHash],
    ))
  const member = async (stock: Stock, role: Role, personId: string): Promise<Caller> => {
    await person(personId, stock.mark)
    await client.query(`select set_config('app.workspace_id', $1, false)`, [stock.workspaceId])
    await client.query(
      `insert into membership (workspace_id, person_id, role, display_name, email) values ($1, $2, $3, $4, $5)
       on conflict do nothing`,
      [stock.workspaceId, personId, role, `${stock.mark} ${role}`, `${personId}@example.test`],
    )
    const token = createSecret()
    await client.query(
      `insert into api_token (workspace_id, name, role, token_hash, person_id, expires_at)
       values ($1, $2, $3, $4, $5, '2099-01-01')`,
      [stock.workspaceId, `${stock.mark} ${role}`, role, Buffer.from(hashSecret(token)), personId],
    )
    return { cookie: (await signIn(personId)).cookie, token }
  }
  const owner = await member(own, 'owner', own.personId)
  const members = {
    owner,
    keeper: await member(own, 'keeper', randomUUID()),
    counter: await member(own, 'counter', randomUUID()),
    viewer: await member(own, 'viewer', randomUUID()),
  }
  const gone = randomUUID()
  const removed = await member(own, 'owner', gone)
  await client.query(`update membership set ended_at = now() where person_id = $1`, [gone])
  const late = randomUUID()
  const expired = await member(own, 'keeper', late)
  await client.query(
    `update login_session set expires_at = now() - interval '1 minute' where person_id = $1`,
    [late],
  )
  await client.query(`update api_token set expires_at = now() - interval '1 minute' where person_id = $1`, [
    late,
  ])
  const callers = {
    nobody: {},
    neighbour: await member(neighbour, 'owner', neighbour.personId),
    removed,
    expired,
  }
  await client.query(`select set_config('app.workspace_id', '', false)`)
  return { ...callers, owner, members }
}

/** A role that may not, where there is one: most of what is only read is read by all. */
export function findLowerRole(permission: Permission): Role | undefined {
  return [...ROLES].reverse().find((role) => !isAllowed(role, permission))
}
