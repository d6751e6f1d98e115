import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { isOverridable, type OverridableCode } from '@/lib/domain/role/overrides'
import { leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'
import type { ClearanceRow } from '@/lib/features/clearance/schema'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import type { IndividualRow } from '@/lib/features/individual/data'
import { listReservations } from '@/lib/features/reservation/data'
import { loadProfiles } from '@/lib/features/species/data'
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

/** What speaks against the leaving of animals on a day and can be overridden, whoever takes them, by animal. */
export async function loadOverridable(
  tx: Tx,
  workspace: Workspace,
  { animals, on }: { animals: readonly IndividualRow[]; on: PlainDate },
): Promise<Map<string, OverridableCode[]>> {
  const { workspaceId } = workspace
  const species = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const grown = await loadGrownSpecies(tx, workspaceId, { species, zones, animals })
  const individualIds = animals.map(({ id }) => id)
  const held = await listReservations(tx, workspaceId, { today: on, individualIds })
  const isHeld = new Set(held.map(({ individualId }) => individualId))
  const naming = instarNamingOf(workspace)
  return new Map(
    animals.map((animal) => {
      const { profile = null, learned = null } = grown.get(animal.speciesId) ?? {}
      const { leave } = leaveOfAnimal(animal, { profile, learned, zones, naming, today: on })
      const said = [...leave.blocks, ...leave.warnings].map(({ code }) => code).filter(isOverridable)
      const codes: OverridableCode[] = isHeld.has(animal.id) ? [...said, 'reserved'] : said
      return [animal.id, [...new Set(codes)]]
    }),
  )
}
