import type { Role } from '@/lib/domain/role/permissions'
import { authPool } from '@/lib/platform/auth-database'

export type DueDayMail = { workspaceId: string; personId: string; role: Role }

/**
 * Who is to get the day sheet by mail now: the hour they chose has come by the clock of the workspace, and today's was
 * not written yet. An hour that a change of the clocks leaves out has come with the next one, and one that comes twice
 * came the first time. Asked before any workspace is known.
 */
export async function listDueDayMails(now: Date, limit: number): Promise<DueDayMail[]> {
  const { rows } = await authPool().query<DueDayMail>(
    `select d.workspace_id as "workspaceId", d.person_id as "personId", m.role
     from day_mail d
     join membership m on m.workspace_id = d.workspace_id and m.person_id = d.person_id and m.ended_at is null
     join workspace w on w.workspace_id = d.workspace_id and w.archived_at is null
     join person p on p.id = d.person_id and p.confirmed_at is not null
     where d.ended_at is null
       and extract(hour from $1::timestamptz at time zone w.time_zone) >= d.hour
       and (d.last_on is null or d.last_on < ($1::timestamptz at time zone w.time_zone)::date)
       and not (w.requires_second_factor and p.totp_since is null)
     order by d.workspace_id, d.person_id limit $2`,
    [now, limit],
  )
  return rows
}
