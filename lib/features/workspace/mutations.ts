import { randomInt, randomUUID } from 'node:crypto'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { inTransaction, type Tx } from '@/lib/platform/db'
import { mintScope, type Scope } from '@/lib/platform/workspace'

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
