import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { isAllowed } from '@/lib/domain/role/permissions'
import { listClutches } from '@/lib/features/clutch/data'
import {
  type ColonyRow,
  capacityOf,
  listColonies,
  presentColony,
  requireColony,
  spanInside,
} from '@/lib/features/colony/data'
import type { ColonyAnswer } from '@/lib/features/colony/schema'
import { listContainerKinds } from '@/lib/features/container/data'
import { listSpecies, loadProfiles } from '@/lib/features/species/data'
import { listZones } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { WorkspaceId } from '@/lib/platform/workspace'

type Choice = { value: string; label: string }

export type ColonyView = ColonyRow & { animals: number; capacity: number | null }

export type ColoniesPage = {
  today: PlainDate
  mayWrite: boolean
  colonies: ColonyView[]
  /** species whose care profile allows it, kinds of container for several, zones: what a new colony needs */
  species: Choice[]
  boxes: Choice[]
  zones: Choice[]
}

export function loadColoniesPage(slug: string): Promise<ColoniesPage> {
  return loadPage({ slug, permission: 'clutch:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const species = await listSpecies(tx, workspaceId)
    const colonies = await listColonies(tx, workspaceId)
    const kinds = await listContainerKinds(tx, workspaceId)
    const zones = await listZones(tx, workspaceId)
    const profileOf = new Map(species.map(({ id, profile }) => [id, profile]))
    return {
      today,
      mayWrite: isAllowed(scope.role, 'clutch:write'),
      colonies: colonies.map((row) => viewOf(row, profileOf.get(row.speciesId) ?? null)),
      species: species
        .filter(({ profile }) => profile?.separation.allowsColony.value)
        .map(({ slug: value, scientificName: label }) => ({ value, label })),
      boxes: kinds.filter(({ single }) => !single).map(({ id, name }) => ({ value: id, label: name })),
      zones: zones.map(({ id, name }) => ({ value: id, label: name })),
    }
  })
}

function viewOf(row: ColonyRow, profile: Parameters<typeof capacityOf>[1]): ColonyView {
  const animals = row.members.reduce((sum, { together }) => sum + together, 0)
  return { ...row, animals, capacity: capacityOf(row, profile, spanInside(row)) }
}

export type ColonyPage = {
  today: PlainDate
  mayWrite: boolean
  colony: ColonyView
  span: { least: string; most: string; isTooWide: boolean } | null
  /** what each line of the count is called */
  stages: Choice[]
  lines: { label: string; sex: 'male' | 'female' | 'unsexed'; animals: number }[]
  /** clutches of the species who are together elsewhere */
  clutches: Choice[]
  zones: Choice[]
}

const CLUTCH_LIMIT = 200
const MOST_MOULTS = 9

export function loadColonyPage(slug: string, id: string): Promise<ColonyPage> {
  return loadPage({ slug, permission: 'clutch:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const row = await requireColony(tx, workspaceId, requireIdParam(id))
    const profiles = await loadProfiles(tx, workspaceId, [row.speciesId])
    const together = await listClutches(tx, workspaceId, {
      speciesId: row.speciesId,
      isTogether: true,
      limit: CLUTCH_LIMIT,
    })
    const zones = await listZones(tx, workspaceId)
    const naming = instarNamingOf(workspace)
    const inside = new Set(row.members.map(({ clutchId }) => clutchId))
    const span = spanInside(row)
    return {
      today,
      mayWrite: isAllowed(scope.role, 'clutch:write') && row.closedOn === null,
      colony: viewOf(row, profiles.get(row.speciesId)?.profile ?? null),
      span: span && {
        least: instarLabel(span.least, naming),
        most: instarLabel(span.most, naming),
        isTooWide: span.most - span.least > 1,
      },
      stages: Array.from({ length: MOST_MOULTS }, (_, moults) => ({
        value: String(moults),
        label: instarLabel(moults, naming),
      })),
      lines: row.lines.map(({ sex, moults, isAdult, animals }) => ({
        label: instarLabel(moults, naming, { isAdult }),
        sex,
        animals,
      })),
      clutches: together
        .filter((clutch) => !inside.has(clutch.id))
        .map((clutch) => ({
          value: clutch.id,
          label: `${clutch.label} · ${clutch.headCount.together} together`,
        })),
      zones: zones.map((zone) => ({ value: zone.id, label: zone.name })),
    }
  })
}

/** What the API answers of one colony, after a change. */
export async function loadColonyAnswer(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ColonyAnswer> {
  const row = await requireColony(tx, workspaceId, id)
  const profiles = await loadProfiles(tx, workspaceId, [row.speciesId])
  return presentColony(row, profiles.get(row.speciesId)?.profile ?? null)
}

export async function listColonyAnswers(tx: Tx, workspaceId: WorkspaceId): Promise<ColonyAnswer[]> {
  const profiles = await loadProfiles(tx, workspaceId)
  const rows = await listColonies(tx, workspaceId)
  return rows.map((row) => presentColony(row, profiles.get(row.speciesId)?.profile ?? null))
}
