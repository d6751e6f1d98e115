import { notFound } from 'next/navigation'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { type ListedValue, listProfileValues } from '@/lib/domain/care-profile/value-list'
import { listOwnRisks, listOwnValues, type OwnValue } from '@/lib/domain/growth/own-value'
import { isAllowed } from '@/lib/domain/role/permissions'
import { loadFitState } from '@/lib/features/growth-fit/data'
import { loadOwnLosses } from '@/lib/features/sibling-loss/data'
import {
  listSpecies,
  loadProfiles,
  requireSpecies,
  type SpeciesRow,
  type SpeciesWithProfile,
} from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { inWorkspace, requireScope, type Workspace } from '@/lib/platform/workspace'

export type SpeciesOnPage = SpeciesRow & { profileNumber: number | null; published: number; own: number }
export type SpeciesListPage = { workspaceName: string; mayWrite: boolean; species: SpeciesOnPage[] }

export async function loadSpeciesListPage(slug: string): Promise<SpeciesListPage> {
  const scope = await requireScope(slug, 'species:read')
  return inWorkspace(scope, async (tx, { name }) => ({
    workspaceName: name,
    mayWrite: isAllowed(scope.role, 'species:write'),
    species: (await listSpecies(tx, scope.workspaceId)).map(({ profile, ...row }) => {
      const kinds = profile ? listProfileValues(profile).map((listed) => listed.source.kind) : []
      const count = (kind: string) => kinds.filter((each) => each === kind).length
      return { ...row, published: count('published'), own: count('own') }
    }),
  }))
}

export type SpeciesPage = {
  species: SpeciesRow & { profileNumber: number | null }
  mayWrite: boolean
  values: ListedValue[]
  /** what own records say of some of them */
  own: OwnValue[]
  fittedOn: string | null
  /** the last attempt to learn from them did not come through */
  isFitFailing: boolean
}

export async function loadSpeciesPage(slug: string, idOrSlug: string): Promise<SpeciesPage> {
  const scope = await requireScope(slug, 'species:read')
  return inWorkspace(scope, async (tx, workspace) => {
    const { profile, ...species } = await requireSpecies(tx, scope.workspaceId, idOrSlug).catch(turnUnknown)
    const state = await loadFitState(tx, scope.workspaceId, species.id)
    const risks = profile ? await listRisks(tx, workspace, { ...species, profile }) : []
    return {
      own: [...(profile && state?.fit ? listOwnValues(profile, state.fit) : []), ...risks],
      fittedOn: state?.fittedAt ? state.fittedAt.toISOString().slice(0, 10) : null,
      isFitFailing: Boolean(state?.failure),
      species,
      mayWrite: isAllowed(scope.role, 'species:write'),
      values: profile ? listProfileValues(profile) : [],
    }
  })
}

/** What the workspace's own clutches lost, against the risks of this profile. */
async function listRisks(
  tx: Tx,
  { workspaceId, today }: Workspace,
  species: SpeciesWithProfile & { profile: CareProfile },
): Promise<OwnValue[]> {
  const zones = await loadZonesById(tx, workspaceId)
  const profiles = await loadProfiles(tx, workspaceId)
  const losses = await loadOwnLosses(tx, workspaceId, { species: profiles, zones, today })
  return listOwnRisks(species.profile, losses.bySpecies.get(species.id))
}

/** On a page, what is not here is the page "not found". */
function turnUnknown(error: unknown): never {
  if (error instanceof AppError && error.code === 'not-found') notFound()
  throw error
}
