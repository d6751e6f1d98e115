import { randomBytes } from 'node:crypto'
import { authPool } from '@/lib/platform/auth-database'
import { invariant } from '@/lib/platform/errors'
import { hashSecret } from '@/lib/platform/secret'

export type SignedIn = { sessionId: string; personId: string; name: string; email: string }

// Idle 7 days, absolute 30: both checked by the statement itself on every request.
const LIVE = "s.ended_at is null and s.expires_at > now() and s.last_seen_at > now() - interval '7 days'"

/** Opens a session for a person on one device and returns the secret that the cookie carries. */
export async function createSession(personId: string, device: string): Promise<string> {
  const secret = await openSession({ personId, device, passwordHash: null })
  invariant(secret, 'the person is there')
  return secret
}

/**
 * The same, only while the password is the one that was proved: locking the person's row, it waits for a change that
 * is under way, and then opens nothing. Otherwise an old password could get in beside the change that ends it.
 */
export async function openSession(wanted: {
  personId: string
  device: string
  passwordHash: string | null
}): Promise<string | undefined> {
  const secret = randomBytes(32).toString('base64url')
  const made = await authPool().query(
    `with proved as (
       select p.id from person p where p.id = $1 and ($4::text is null or p.password_hash = $4) for share)
     insert into login_session (person_id, id_hash, device, expires_at)
     select id, $2, $3, now() + interval '30 days' from proved`,
    [wanted.personId, Buffer.from(hashSecret(secret)), wanted.device.slice(0, 200), wanted.passwordHash],
  )
  return made.rowCount === 1 ? secret : undefined
}

export async function getSession(secret: string): Promise<SignedIn | undefined> {
  const found = await authPool().query<SignedIn & { stale: boolean }>(
    `select s.id as "sessionId", s.person_id as "personId", p.name, p.email::text as email,
            s.last_seen_at < now() - interval '5 minutes' as stale
     from login_session s join person p on p.id = s.person_id
     where s.id_hash = $1 and ${LIVE}`,
    [Buffer.from(hashSecret(secret))],
  )
  const row = found.rows[0]
  if (row?.stale)
    await authPool().query('update login_session set last_seen_at = now() where id = $1', [row.sessionId])
  return row && { sessionId: row.sessionId, personId: row.personId, name: row.name, email: row.email }
}

export async function endSession(secret: string): Promise<void> {
  await authPool().query(
    'update login_session set ended_at = now() where id_hash = $1 and ended_at is null',
    [Buffer.from(hashSecret(secret))],
  )
}

export type Device = { id: string; device: string; createdAt: Date; lastSeenAt: Date }

export async function listDevices(personId: string): Promise<Device[]> {
  const found = await authPool().query<Device>(
    `select s.id, s.device, s.created_at as "createdAt", s.last_seen_at as "lastSeenAt"
     from login_session s where s.person_id = $1 and ${LIVE} order by s.last_seen_at desc`,
    [personId],
  )
  return found.rows
}

/** Signs one of a person's devices out; another person's device is not found. */
export async function endDevice(personId: string, id: string): Promise<boolean> {
  const ended = await authPool().query(
    'update login_session set ended_at = now() where person_id = $1 and id = $2 and ended_at is null',
    [personId, id],
  )
  return ended.rowCount === 1
}

/** What the sign-in cookie and a slug lead to, in one statement: who, and as what in that workspace. */
export type MembershipLookUp = SignedIn & {
  workspaceId: string | null
  role: 'owner' | 'keeper' | 'counter' | 'viewer' | null
  presentSlug: string | null
  workspaceName: string | null
  /** The workspace asks for a second factor and this person has none: nothing is open until it is set up. */
  lacksSecondFactor: boolean
}

export async function lookUpMembership(secret: string, slug: string): Promise<MembershipLookUp | undefined> {
  const found = await authPool().query<MembershipLookUp & { stale: boolean }>(
    `select s.id as "sessionId", s.person_id as "personId", p.name, p.email::text as email,
            w.workspace_id as "workspaceId", case when w.workspace_id is not null then m.role end as role, w.slug as "presentSlug", w.name as "workspaceName",
            coalesce(w.requires_second_factor and p.totp_since is null, false) as "lacksSecondFactor",
            s.last_seen_at < now() - interval '5 minutes' as stale
     from login_session s
     join person p on p.id = s.person_id
     left join workspace_slug a on a.slug = $2
     left join membership m
       on m.workspace_id = a.workspace_id and m.person_id = s.person_id and m.ended_at is null
     left join workspace w on w.workspace_id = m.workspace_id and w.archived_at is null
     where s.id_hash = $1 and ${LIVE}`,
    [Buffer.from(hashSecret(secret)), slug],
  )
  const row = found.rows[0]
  if (row?.stale)
    await authPool().query('update login_session set last_seen_at = now() where id = $1', [row.sessionId])
  return row
}

export type OwnWorkspace = {
  workspaceId: string
  slug: string
  name: string
  role: 'owner' | 'keeper' | 'counter' | 'viewer'
}

/** The workspaces a person belongs to now, by name. */
export async function listOwnWorkspaces(personId: string): Promise<OwnWorkspace[]> {
  const found = await authPool().query<OwnWorkspace>(
    `select m.workspace_id as "workspaceId", w.slug, w.name, m.role
     from membership m join workspace w on w.workspace_id = m.workspace_id
     where m.person_id = $1 and m.ended_at is null and w.archived_at is null order by w.name, w.slug`,
    [personId],
  )
  return found.rows
}
