import { createHmac } from 'node:crypto'
import type { Role } from '@/lib/domain/role/permissions'
import { authPool } from '@/lib/platform/auth-database'
import { env } from '@/lib/platform/env'
import { hashSecret } from '@/lib/platform/secret'
import { mintScope, type Scope } from '@/lib/platform/workspace'

const TOKEN = /^[\w-]{40,60}$/

/** 256 bits that follow from the link key and the feed's id, so that its owner can be shown the address again. */
function feedToken(feedId: string): string {
  return createHmac('sha256', env().LINK_KEY).update(`calendar:${feedId}`).digest('base64url')
}

/** The address that is put into a calendar; from the settings, never from a request. */
export function calendarFeedAddress(feedId: string): string {
  return new URL(`/api/v1/calendar.ics?key=${feedToken(feedId)}`, env().PUBLIC_ADDRESS).href
}

export function calendarFeedHash(feedId: string): Uint8Array<ArrayBuffer> {
  return hashSecret(feedToken(feedId))
}

export type OpenFeed = { feedId: string; scope: Scope }

/**
 * Whose calendar a key opens, asked before any workspace is known. Unknown, revoked, of somebody who left, or who lacks
 * the second factor that the workspace asks for: all look the same, undefined.
 */
export async function lookUpCalendarFeed(token: string): Promise<OpenFeed | undefined> {
  if (!TOKEN.test(token)) return undefined
  const found = await authPool().query<{ feedId: string; workspaceId: string; personId: string; role: Role }>(
    `select f.id as "feedId", f.workspace_id as "workspaceId", f.person_id as "personId", m.role
     from calendar_feed f
     join membership m on m.workspace_id = f.workspace_id and m.person_id = f.person_id
     join workspace w on w.workspace_id = f.workspace_id and w.archived_at is null
     join person p on p.id = f.person_id
     where f.token_hash = $1 and f.revoked_at is null and m.ended_at is null
       and not (w.requires_second_factor and p.totp_since is null)`,
    [Buffer.from(hashSecret(token))],
  )
  const row = found.rows[0]
  return row && { feedId: row.feedId, scope: mintScope(row) }
}

/** The workspaces somebody reads the calendar of: asked before any workspace is known. */
export async function listCalendarWorkspaces(): Promise<string[]> {
  const { rows } = await authPool().query<{ workspaceId: string }>(
    `select distinct f.workspace_id as "workspaceId" from calendar_feed f
     join membership m on m.workspace_id = f.workspace_id and m.person_id = f.person_id and m.ended_at is null
     join workspace w on w.workspace_id = f.workspace_id and w.archived_at is null
     where f.revoked_at is null order by 1`,
  )
  return rows.map(({ workspaceId }) => workspaceId)
}
