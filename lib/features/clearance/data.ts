import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { isOverridable, type OverridableCode } from '@/lib/domain/role/overrides'
import { leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'
import type { ClearanceRow } from '@/lib/features/clearance/schema'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import type { IndividualRow } from '@/lib/features/individual/data'
import { listReservations } from '@/lib/features/reservation/data'
import { requireSpecies } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** What was cleared for a day of the given animals, by animal. One statement. */
export async function loadClearances(
  tx: Tx,
  workspaceId: WorkspaceId,
  { ids, on }: { ids: readonly string[]; on: PlainDate },
): Promise<Map<string, ClearanceRow[]>> {
  const rows = await tx.$queryRaw<ClearanceRow[]>`
    select c.id, c.individual_id as "individualId", c.codes, c.reason, m.display_name as by, c.version
    from clearance c
    left join membership m on m.workspace_id = c.workspace_id and m.person_id = c.given_by
    where c.workspace_id = ${workspaceId}::uuid and c.individual_id = any(${[...ids]}::uuid[]) and c."on" = ${on}::date
      and c.archived_at is null
    order by c.id`
  const of = (id: string) => rows.filter(({ individualId }) => individualId === id)
  return new Map(ids.map((id) => [id, of(id)]))
}

/** The codes that somebody has cleared of an animal that day. */
export const codesOf = (clearances: readonly ClearanceRow[] | undefined): string[] =>
  (clearances ?? []).flatMap(({ codes }) => codes)

/** What speaks against its leaving on a day and can be overridden, whoever buys it. */
export async function listOverridable(
  tx: Tx,
  workspace: Workspace,
  { animal, on }: { animal: IndividualRow; on: PlainDate },
): Promise<OverridableCode[]> {
  const { workspaceId } = workspace
  const species = await requireSpecies(tx, workspaceId, animal.speciesId)
  const zones = await loadZonesById(tx, workspaceId)
  const grown = await loadGrownSpecies(tx, workspaceId, { species: [species], zones, animals: [animal] })
  const { profile = null, learned = null } = grown.get(species.id) ?? {}
  const known = { profile, learned, zones, naming: instarNamingOf(workspace), today: on }
  const { leave } = leaveOfAnimal(animal, known)
  const held = await listReservations(tx, workspaceId, { today: on, individualIds: [animal.id] })
  const said = [...leave.blocks, ...leave.warnings].map(({ code }) => code).filter(isOverridable)
  return [...new Set<OverridableCode>(held.length > 0 ? [...said, 'reserved'] : said)]
}
