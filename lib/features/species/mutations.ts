import { speciesSlug } from '@/lib/domain/care-profile/defaults'
import { checkProfile, updateAllowsColony, updateProfileValue } from '@/lib/domain/care-profile/edit'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { adoptProfile } from '@/lib/domain/care-profile/value-list'
import { profileValuePaths } from '@/lib/domain/care-profile/value-path'
import { requireSpecies, type SpeciesWithProfile } from '@/lib/features/species/data'
import type { CareProfileEdit, CreateSpecies } from '@/lib/features/species/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/**
 * Adds a species of one's own, with the care profile of a similar one to begin with.
 * @throws AppError name-taken when a species of that name is there
 */
export async function createSpecies(
  tx: Tx,
  workspaceId: WorkspaceId,
  species: CreateSpecies,
): Promise<{ id: string; slug: string }> {
  const { scientificName, commonName = '', kind, likeId } = species
  if (kind === 'mantis' && !likeId) throw refuseField('likeId', 'Choose the species it is most like.')
  if (kind === 'other' && likeId)
    throw refuseField('likeId', 'Only a mantis takes over another’s care profile.')
  const like = likeId ? await requireSpecies(tx, workspaceId, likeId) : undefined
  const slug = speciesSlug(scientificName)
  if (slug === '') throw refuseField('scientificName', 'Use Latin letters.')
  const made = await tx.species.create({
    data: { workspaceId, slug, scientificName, commonName, kind },
    select: { id: true, slug: true },
  })
  if (like?.profile)
    await storeProfile(tx, workspaceId, {
      speciesId: made.id,
      number: 1,
      profile: adoptProfile(like.profile, `Taken over from ${like.scientificName}`),
    })
  return made
}

export type ProfileChange = {
  species: SpeciesWithProfile
  edits: readonly CareProfileEdit[]
  /** the version the edit was made on, where it is known */
  on?: number
}

/**
 * Makes a new version of a species' care profile; older ones stay for the sheets printed from them.
 * @throws AppError invalid at the value's place in `edits`; stale when a newer version is there
 */
export async function updateCareProfile(
  tx: Tx,
  workspaceId: WorkspaceId,
  change: ProfileChange,
): Promise<number> {
  const { species, edits, on } = change
  const { profile, profileNumber } = species
  if (!profile || profileNumber === null)
    throw new AppError('invalid', 'This species has no care profile: its instars are not defined.')
  if (on !== undefined && on !== profileNumber)
    throw new AppError('stale', 'The care profile was changed meanwhile.', {
      present: { version: profileNumber },
    })
  const edited = edits.reduce(
    (content, { path, value, note = '' }) => updateProfileValue(content, { path, value, note }),
    checkPaths(profile, edits),
  )
  refuseProblems(edited, edits)
  const number = profileNumber + 1
  await storeProfile(tx, workspaceId, { speciesId: species.id, number, profile: edited })
  return number
}

/**
 * Says whether animals of a species may live together here, as a new version of its care profile.
 * @throws AppError stale when a newer version is there
 */
export async function updateColonyRule(
  tx: Tx,
  workspaceId: WorkspaceId,
  change: { species: SpeciesWithProfile; allows: boolean; note: string; on: number },
): Promise<number> {
  const { species, allows, note, on } = change
  const { profile, profileNumber } = species
  if (!profile || profileNumber === null)
    throw new AppError('invalid', 'This species has no care profile: its instars are not defined.')
  if (on !== profileNumber)
    throw new AppError('stale', 'The care profile was changed meanwhile.', {
      present: { version: profileNumber },
    })
  const number = profileNumber + 1
  const edited = updateAllowsColony(profile, { allows, note })
  await storeProfile(tx, workspaceId, { speciesId: species.id, number, profile: edited })
  return number
}

function checkPaths(profile: CareProfile, edits: readonly CareProfileEdit[]): CareProfile {
  const known = new Set(profileValuePaths().map(({ path }) => path))
  const unknown = edits.flatMap(({ path }, index) =>
    known.has(path) ? [] : [{ path: `values.${index}.path`, message: 'is not a value of the care profile' }],
  )
  if (unknown.length > 0) throw new AppError('invalid', 'Some values are not known.', { fields: unknown })
  return profile
}

function refuseProblems(profile: CareProfile, edits: readonly CareProfileEdit[]): void {
  const problems = checkProfile(profile)
  if (problems.length === 0) return
  const fields = problems.map(({ path, message }) => {
    const index = edits.findIndex((edit) => edit.path === path)
    return { path: index === -1 ? 'values' : `values.${index}.value`, message }
  })
  throw new AppError('invalid', fields[0]?.message ?? 'Some values cannot be right.', { fields })
}

type StoredProfile = { speciesId: string; number: number; profile: CareProfile }

async function storeProfile(tx: Tx, workspaceId: WorkspaceId, stored: StoredProfile): Promise<void> {
  const { speciesId, number, profile } = stored
  const made = await tx.careProfile.createMany({
    data: [{ workspaceId, speciesId, number, content: JSON.parse(JSON.stringify(profile)) }],
    skipDuplicates: true,
  })
  if (made.count === 0)
    throw new AppError('stale', 'The care profile was changed meanwhile.', { present: { version: number } })
}
