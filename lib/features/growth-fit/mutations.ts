import { createHash } from 'node:crypto'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { fitGrowth, type GrowthEvidence, type GrowthFit, hasEvidence } from '@/lib/domain/growth/fit'
import type { ZonesById } from '@/lib/domain/zone/history'
import { listEvidence, type StoredFit } from '@/lib/features/growth-fit/data'
import { requireSpecies } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import { enqueuePastWindows } from '@/lib/platform/jobs'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type Refit = 'fitted' | 'unchanged' | 'nothing-to-learn'

/**
 * Learns anew from the records of one species, where they have changed since the last fit. The species' row stays
 * locked meanwhile, so that two at once give one fit; until the end the last one serves.
 */
export async function updateGrowthFit(tx: Tx, workspace: Workspace, speciesId: string): Promise<Refit> {
  const { workspaceId, today } = workspace
  const { profile } = await requireSpecies(tx, workspaceId, speciesId)
  if (!profile) return 'nothing-to-learn'
  const before = await lockFit(tx, workspaceId, speciesId)
  const zones = await loadZonesById(tx, workspaceId)
  const evidence = (await listEvidence(tx, workspaceId, { speciesIds: [speciesId], asOf: today })).get(
    speciesId,
  )
  invariant(evidence, 'a species that was asked for has an answer')
  // A species whose last record was taken back has its profile again, by a fit of nothing.
  if (!hasEvidence(evidence) && before.version === 0) return 'nothing-to-learn'
  const evidenceHash = hashOf({ profile, evidence, zones, waitsUntil: waitingUntil(evidence, today) })
  if (before.version > 0 && before.evidenceHash === evidenceHash) {
    await clearFailure(tx, workspaceId, speciesId)
    return 'unchanged'
  }
  const fit = fitGrowth(profile, evidence, { zones, asOf: today })
  await storeFit(tx, workspaceId, { speciesId, version: before.version + 1, evidenceHash, fit })
  await enqueuePastWindows(tx, speciesId)
  return 'fitted'
}

/** That an attempt did not come through, and why; the fit that is there goes on serving. */
export async function recordFailedFit(
  tx: Tx,
  { workspaceId }: Workspace,
  { speciesId, failure }: { speciesId: string; failure: string },
): Promise<void> {
  await requireSpecies(tx, workspaceId, speciesId)
  await lockFit(tx, workspaceId, speciesId)
  await tx.growthFit.updateMany({
    where: { workspaceId, speciesId },
    data: { failure, failedAt: new Date() },
  })
}

async function clearFailure(tx: Tx, workspaceId: WorkspaceId, speciesId: string): Promise<void> {
  await tx.growthFit.updateMany({
    where: { workspaceId, speciesId, failure: { not: null } },
    data: { failure: null, failedAt: null },
  })
}

async function lockFit(
  tx: Tx,
  workspaceId: WorkspaceId,
  speciesId: string,
): Promise<{ version: number; evidenceHash: string }> {
  await tx.growthFit.createMany({ data: [{ workspaceId, speciesId }], skipDuplicates: true })
  const rows = await tx.$queryRaw<{ version: number; evidenceHash: string }[]>`
    select version, evidence_hash as "evidenceHash" from growth_fit
    where workspace_id = ${workspaceId}::uuid and species_id = ${speciesId}::uuid for update`
  return rows[0] ?? { version: 0, evidenceHash: '' }
}

type Hashed = { profile: CareProfile; evidence: GrowthEvidence; zones: ZonesById; waitsUntil: string | null }

/** Counted up where a fit says more than before, so that the next one is not taken for the same. */
const SCHEME = 2

/** Everything that a fit hangs on, piece by piece, as the whole may be large. */
function hashOf({ profile, evidence, zones, waitsUntil }: Hashed): string {
  const hash = createHash('sha256')
  const add = (piece: unknown) => hash.update(JSON.stringify(piece)).update('\n')
  add([SCHEME, profile.growth, profile.hatch, waitsUntil])
  for (const [id, { setPoints, days = [] }] of zones) add([id, setPoints, days])
  for (const record of evidence.animals) add(record)
  for (const clutch of evidence.clutches) add(clutch)
  for (const eggCase of evidence.eggCases) add(eggCase)
  return hash.digest('hex')
}

/** An egg case that has not hatched says more with every day it waits. */
function waitingUntil({ eggCases }: GrowthEvidence, today: string): string | null {
  const isWaiting = eggCases.some(({ hatches, endedOn }) => hatches.length === 0 && endedOn === null)
  return isWaiting ? today : null
}

type NewFit = { speciesId: string; version: number; evidenceHash: string; fit: GrowthFit }

async function storeFit(tx: Tx, workspaceId: WorkspaceId, stored: NewFit): Promise<void> {
  const { speciesId, version, evidenceHash, fit } = stored
  const { doubts, development, ...rest } = fit
  const { clutches, animals, ...shared } = development
  const content: StoredFit = { ...rest, development: shared }
  await tx.growthFit.updateMany({
    where: { workspaceId, speciesId },
    data: {
      version,
      evidenceHash,
      content: JSON.parse(JSON.stringify(content)),
      doubts: JSON.parse(JSON.stringify(doubts)),
      fittedAt: new Date(),
      failure: null,
      failedAt: null,
    },
  })
  const ofClutches = Object.entries(clutches).filter(([id]) => isId(id))
  const ofAnimals = Object.entries(animals).filter(([id]) => isId(id))
  await tx.$executeRaw`
    insert into clutch_growth (workspace_id, clutch_id, fit_version, effect)
    select ${workspaceId}::uuid, e.key::uuid, ${version}::int, e.value
    from jsonb_each(${JSON.stringify(Object.fromEntries(ofClutches))}::jsonb) e order by e.key
    on conflict (workspace_id, clutch_id) do update
      set fit_version = excluded.fit_version, effect = excluded.effect`
  await tx.$executeRaw`
    insert into animal_growth (workspace_id, individual_id, fit_version, effect)
    select ${workspaceId}::uuid, e.key::uuid, ${version}::int, e.value
    from jsonb_each(${JSON.stringify(Object.fromEntries(ofAnimals))}::jsonb) e order by e.key
    on conflict (workspace_id, individual_id) do update
      set fit_version = excluded.fit_version, effect = excluded.effect`
}

const isId = (key: string) => /^[0-9a-f-]{36}$/.test(key)
