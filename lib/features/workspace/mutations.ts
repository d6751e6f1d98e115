import { randomInt, randomUUID } from 'node:crypto'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import type { ChangeSlug, UpdateWorkspace } from '@/lib/features/workspace/schema'
import { inTransaction, type Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { mintScope, type Scope, type WorkspaceId } from '@/lib/platform/workspace'

export type NewWorkspace = {
  name: string
  slug: string
  timeZone: string
  country: string
  currency: string
  language: string
}
export type Founder = { personId: string; name: string; email: string }

/**
 * Makes a workspace with its owner and the default care profiles.
 * @throws AppError name-taken when the slug is or was another workspace's
 */
export async function createWorkspace(workspace: NewWorkspace, founder: Founder): Promise<Scope> {
  const workspaceId = randomUUID()
  const scope = mintScope({ workspaceId, personId: founder.personId, role: 'owner' })
  await inTransaction({ workspaceId, personId: null, apiTokenId: null }, async (tx) => {
    await tx.workspace.create({ data: { workspaceId, labelKey: randomInt(2 ** 31 - 1), ...workspace } })
    await tx.workspaceSlug.create({ data: { workspaceId, slug: workspace.slug } })
    await tx.membership.create({
      data: {
        workspaceId,
        personId: founder.personId,
        role: 'owner',
        displayName: founder.name,
        email: founder.email,
      },
    })
    await createDefaultSpecies(tx, workspaceId)
  })
  return scope
}

async function createDefaultSpecies(tx: Tx, workspaceId: string): Promise<void> {
  const species = await tx.species.createManyAndReturn({
    data: DEFAULT_PROFILES.map(({ slug, scientificName, commonName, kind }) => ({
      workspaceId,
      slug,
      scientificName,
      commonName,
      kind,
    })),
    select: { id: true, slug: true },
  })
  const idOfSlug = new Map(species.map((made) => [made.slug, made.id]))
  await tx.careProfile.createMany({
    data: DEFAULT_PROFILES.map(({ slug, profile }) => ({
      workspaceId,
      speciesId: idOfSlug.get(slug) ?? '',
      number: 1,
      content: JSON.parse(JSON.stringify(profile)),
    })),
  })
}

/** @throws AppError stale with the present settings when someone else saved first */
export async function updateWorkspace(
  tx: Tx,
  workspaceId: WorkspaceId,
  settings: UpdateWorkspace,
): Promise<void> {
  const { version, contact = '', claimTerms = '', foodText = '', ...rest } = settings
  const changed = await tx.workspace.updateMany({
    where: { workspaceId, version },
    data: { ...rest, contact, claimTerms, foodText, version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId)
}

/** Whether nobody may work here without a second factor. Whoever has none is led to setting it up. */
export async function updateSecondFactorRule(
  tx: Tx,
  workspaceId: WorkspaceId,
  isRequired: boolean,
): Promise<void> {
  await tx.workspace.updateMany({
    where: { workspaceId },
    data: { requiresSecondFactor: isRequired, version: { increment: 1 } },
  })
}

/**
 * Gives the workspace a new address. Old ones stay its own and lead to the new one, so printed labels keep working.
 * @throws AppError name-taken when the address is or was another workspace's
 */
export async function updateSlug(tx: Tx, workspaceId: WorkspaceId, change: ChangeSlug): Promise<void> {
  const { slug, version } = change
  await tx.workspaceSlug.createMany({ data: [{ workspaceId, slug }], skipDuplicates: true })
  // Row-level security shows only one's own: an address that could not be added and is not seen is somebody else's.
  const own = await tx.workspaceSlug.count({ where: { workspaceId, slug } })
  if (own === 0)
    throw new AppError('name-taken', 'This address is already taken.', {
      fields: [{ path: 'slug', message: 'is already taken' }],
    })
  const changed = await tx.workspace.updateMany({
    where: { workspaceId, version },
    data: { slug, version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId)
}

async function refuseStale(tx: Tx, workspaceId: WorkspaceId): Promise<AppError> {
  const present = await tx.workspace.findUniqueOrThrow({
    where: { workspaceId },
    omit: { labelKey: true, demoAnchorOn: true, createdAt: true, archivedAt: true, workspaceId: true },
  })
  return new AppError('stale', 'Someone else changed the workspace meanwhile.', { present })
}
