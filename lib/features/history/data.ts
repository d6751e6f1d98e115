import type { PlainDate } from '@/lib/domain/calendar/date'
import type { HandedRecord } from '@/lib/domain/hand-over/record'
import type { EntryState } from '@/lib/domain/head-count/head-count'
import type { LossCause } from '@/lib/domain/head-count/loss-cause'
import type { OverrideRules } from '@/lib/domain/role/overrides'
import type { ClearanceRow } from '@/lib/features/clearance/schema'
import type { PaperRow } from '@/lib/features/paper/schema'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** One animal's story besides its growth: where it was, what it ate, its sheets and receipts, newest first. */
export type IndividualHistory = {
  entries: {
    id: string
    from: EntryState
    to: EntryState
    on: PlainDate
    cause: LossCause | null
    note: string
    by: string | null
    isReversal: boolean
    isReversed: boolean
  }[]
  feedings: { id: string; on: PlainDate; ate: boolean; prey: string }[]
  sales: { id: string; receiptNumber: string; on: PlainDate; isReversed: boolean }[]
  sheets: { count: number; lastOn: PlainDate | null }
  /** what was known of it where it was taken over from; null for one that was not */
  takenOver: { from: string; record: HandedRecord } | null
  /** the permits and proofs that came with it */
  papers: PaperRow[]
  /** of any day: who let it leave although something spoke against it */
  clearances: (ClearanceRow & { on: PlainDate })[]
  /** what keepers and the counter may override here; null where nobody has set it */
  overrides: OverrideRules | null
}

/** In one statement; of the feedings the last forty. */
export async function loadIndividualHistory(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<IndividualHistory> {
  const rows = await tx.$queryRaw<IndividualHistory[]>`
    select
      (select coalesce(json_agg(json_build_object('id', e.id, 'from', e."from", 'to', e."to", 'on', e."on",
          'cause', e.cause, 'note', e.note, 'by', m.display_name, 'isReversal', e.reverses is not null,
          'isReversed', r.id is not null) order by e.id desc), '[]')
        from head_count_entry e
        left join membership m on m.workspace_id = e.workspace_id and m.person_id = e.recorded_by
        left join head_count_entry r on r.workspace_id = e.workspace_id and r.reverses = e.id
        where e.workspace_id = ${workspaceId}::uuid and e.individual_id = ${id}::uuid) as entries,
      (select coalesce(json_agg(json_build_object('id', f.id, 'on', f."on", 'ate', f.ate, 'prey', f.prey)
          order by f."on" desc, f.id desc), '[]')
        from (select * from feeding f
          where f.workspace_id = ${workspaceId}::uuid and f.individual_id = ${id}::uuid
          order by f."on" desc, f.id desc limit 40) f) as feedings,
      (select coalesce(json_agg(json_build_object('id', s.id, 'receiptNumber', case s.series when '' then '' else s.series || '-' end || s.receipt_number, 'on', s."on",
          'isReversed', v.sale_id is not null) order by s.id desc), '[]')
        from sale_line l
        join sale s on s.workspace_id = l.workspace_id and s.id = l.sale_id
        left join sale_reversal v on v.workspace_id = s.workspace_id and v.sale_id = s.id
        where l.workspace_id = ${workspaceId}::uuid and l.individual_id = ${id}::uuid) as sales,
      (select json_build_object('count', count(*), 'lastOn', max(c.printed_on))
        from care_sheet c
        where c.workspace_id = ${workspaceId}::uuid and c.individual_id = ${id}::uuid) as sheets,
      (select json_build_object('from', t.from_name, 'record', t.record) from taken_over t
        where t.workspace_id = ${workspaceId}::uuid and t.individual_id = ${id}::uuid) as "takenOver",
      (select coalesce(json_agg(json_build_object('id', p.id, 'kind', p.kind, 'number', p.number, 'on', p.dated_on,
          'version', p.version, 'label', '') order by p.id), '[]')
        from paper p
        where p.workspace_id = ${workspaceId}::uuid and p.individual_id = ${id}::uuid and p.sale_id is null
          and p.archived_at is null) as papers,
      (select coalesce(json_agg(json_build_object('id', c.id, 'individualId', c.individual_id, 'on', c."on",
          'codes', c.codes, 'reason', c.reason, 'by', m.display_name, 'version', c.version) order by c.id), '[]')
        from clearance c
        left join membership m on m.workspace_id = c.workspace_id and m.person_id = c.given_by
        where c.workspace_id = ${workspaceId}::uuid and c.individual_id = ${id}::uuid and c.archived_at is null
        ) as clearances,
      (select json_build_object('counter', t.counter_overrides, 'keeper', t.keeper_overrides) from till t
        where t.workspace_id = ${workspaceId}::uuid) as overrides`
  const [history] = rows
  invariant(history, 'a statement without a table answers one row')
  return history
}
