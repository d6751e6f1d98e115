import type { CareProfile } from '@/lib/domain/care-profile/profile'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type SpeciesRow = {
  id: string
  slug: string
  scientificName: string
  commonName: string
  kind: 'mantis' | 'other'
  version: number
}

/** A species with the care profile in force; `profile` is null for animals whose instars nobody has defined yet. */
export type SpeciesWithProfile = SpeciesRow & { profile: CareProfile | null; profileNumber: number | null }

const SPECIES_FIELDS = {
  id: true,
  slug: true,
  scientificName: true,
  commonName: true,
  kind: true,
  version: true,
} as const

export async function listSpecies(tx: Tx, workspaceId: WorkspaceId): Promise<SpeciesWithProfile[]> {
  return [...(await loadProfiles(tx, workspaceId)).values()]
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i

/**
 * One species by its id or by the slug of its scientific name.
 * @throws AppError not-found
 */
export async function requireSpecies(
  tx: Tx,
  workspaceId: WorkspaceId,
  idOrSlug: string,
): Promise<SpeciesWithProfile> {
  const row = await tx.species.findFirst({
    where: { workspaceId, ...(UUID.test(idOrSlug) ? { id: idOrSlug } : { slug: idOrSlug }) },
    select: { ...SPECIES_FIELDS, profiles: { orderBy: { number: 'desc' }, take: 1 } },
  })
  if (!row) throw refuseUnknown('species')
  const { profiles, ...species } = row
  return withProfile(species, profiles[0])
}

/** Every species by id without its care profile, which is a hundred times the size: names for a list. */
export async function loadSpeciesById(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, SpeciesRow>> {
  const rows = await tx.$queryRaw<SpeciesRow[]>`
    select id, slug, scientific_name as "scientificName", common_name as "commonName", kind::text, version
    from species where workspace_id = ${workspaceId}::uuid order by scientific_name`
  return new Map(rows.map((row) => [row.id, row]))
}

/** The care profiles in force by species id: of all that are kept, or of those asked for, archived or not. */
export async function loadProfiles(
  tx: Tx,
  workspaceId: WorkspaceId,
  ids?: readonly string[],
): Promise<Map<string, SpeciesWithProfile>> {
  const wanted = ids
    ? Prisma.sql`s.id = any(${[...new Set(ids)]}::uuid[])`
    : Prisma.sql`s.archived_at is null`
  // Written only through checkProfile, so the stored JSON has the shape of a profile.
  const rows = await tx.$queryRaw<SpeciesWithProfile[]>`
    select s.id, s.slug, s.scientific_name as "scientificName", s.common_name as "commonName", s.kind::text, s.version,
      newest.content as profile, newest.number as "profileNumber"
    from species s
    left join lateral (
      select p.content, p.number from care_profile p
      where p.workspace_id = s.workspace_id and p.species_id = s.id
      order by p.number desc limit 1) newest on true
    where s.workspace_id = ${workspaceId}::uuid and ${wanted}
    order by s.scientific_name`
  return new Map(rows.map((row) => [row.id, row]))
}

function withProfile(
  row: SpeciesRow,
  newest: { content: unknown; number: number } | undefined,
): SpeciesWithProfile {
  return {
    ...row,
    // Written only through checkProfile, so the stored JSON has this shape.
    profile: newest ? (newest.content as CareProfile) : null,
    profileNumber: newest?.number ?? null,
  }
}
