import type { PlainDate } from '@/lib/domain/calendar/date'
import { individualCode } from '@/lib/domain/label/code'
import { forecastClutch, likelyMoults, requireClutch } from '@/lib/features/clutch/data'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import { openStays, type Place } from '@/lib/features/housing/data'
import type { Tx } from '@/lib/platform/db'
import { invariant, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type SeparationRow = {
  id: string
  clutchId: string
  containerKindId: string
  zoneId: string
  on: PlainDate
  planned: number
  firstNumber: number
  isFinished: boolean
}

const SEPARATION_FIELDS = {
  id: true,
  clutchId: true,
  containerKindId: true,
  zoneId: true,
  on: true,
  planned: true,
  firstNumber: true,
  finishedAt: true,
} as const

/** @throws AppError not-found */
export async function requireSeparation(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<SeparationRow> {
  const row = await tx.separation.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: SEPARATION_FIELDS,
  })
  if (!row) throw refuseUnknown('run at the bench')
  const { on, finishedAt, ...rest } = row
  return { ...rest, on: on.toISOString().slice(0, 10), isFinished: finishedAt !== null }
}

/** The runs of a clutch that nobody has finished, newest first. */
export async function listOpenSeparations(
  tx: Tx,
  workspaceId: WorkspaceId,
  clutchId: string,
): Promise<SeparationRow[]> {
  const rows = await tx.separation.findMany({
    where: { workspaceId, clutchId, finishedAt: null },
    select: SEPARATION_FIELDS,
    orderBy: { id: 'desc' },
    take: 20,
  })
  return rows.map(({ on, finishedAt, ...rest }) => ({
    ...rest,
    on: on.toISOString().slice(0, 10),
    isFinished: finishedAt !== null,
  }))
}

export type RunAnimal = { id: string; label: string; moults: number }

/** The animals that a run put into cups and that were not taken back, in the order of their cups. */
export async function listRunAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  separationId: string,
): Promise<RunAnimal[]> {
  return tx.$queryRaw<RunAnimal[]>`
    select i.id, i.label, i.baseline_moults as moults
    from head_count_entry x
    join individual i on i.workspace_id = x.workspace_id and i.id = x.individual_id
    left join head_count_entry r on r.workspace_id = x.workspace_id and r.reverses = x.id
    where x.workspace_id = ${workspaceId}::uuid and x.separation_id = ${separationId}::uuid
      and x."from" = 'together' and x."to" = 'single' and x.reverses is null and r.id is null
    order by x.recorded_at, x.id`
}

export type RunCounts = { housed: number; dead: number; escaped: number }

/** What a run has done so far, without what was taken back. */
export async function countRunEntries(
  tx: Tx,
  workspaceId: WorkspaceId,
  separationId: string,
): Promise<RunCounts> {
  const rows = await tx.$queryRaw<RunCounts[]>`
    select coalesce(sum(x.count) filter (where x."to" = 'single'), 0)::int as housed,
      coalesce(sum(x.count) filter (where x."to" = 'dead'), 0)::int as dead,
      coalesce(sum(x.count) filter (where x."to" = 'escaped'), 0)::int as escaped
    from head_count_entry x
    left join head_count_entry r on r.workspace_id = x.workspace_id and r.reverses = x.id
    where x.workspace_id = ${workspaceId}::uuid and x.separation_id = ${separationId}::uuid
      and x."from" = 'together' and x.reverses is null and r.id is null`
  return rows[0] ?? { housed: 0, dead: 0, escaped: 0 }
}

/**
 * The newest ledger entry of a clutch, which begins with one: whoever knows it knows how the clutch stands.
 * @throws AppError not-found
 */
export async function loadNewestEntry(tx: Tx, workspaceId: WorkspaceId, clutchId: string): Promise<string> {
  const newest = await tx.headCountEntry.findFirst({
    where: { workspaceId, clutchId },
    orderBy: { id: 'desc' },
    select: { id: true },
  })
  if (!newest) throw refuseUnknown('clutch')
  return newest.id
}

/** Those of some label codes that animals have already. */
export async function listTakenLabels(
  tx: Tx,
  workspaceId: WorkspaceId,
  codes: readonly string[],
): Promise<string[]> {
  const rows = await tx.individual.findMany({
    where: { workspaceId, label: { in: [...codes] } },
    select: { label: true },
  })
  return rows.map(({ label }) => label)
}

/** The stage most of a clutch's siblings are expected to be in on a day, as moults since hatch. */
export async function loadLikelyMoults(
  tx: Tx,
  workspace: Workspace,
  { clutchId, on }: { clutchId: string; on: PlainDate },
): Promise<number> {
  const ground = await loadForecastGround(tx, workspace)
  const clutch = await requireClutch(tx, workspace.workspaceId, { id: clutchId })
  return likelyMoults(forecastClutch(clutch, { ...ground, today: on }))
}

export type NewSingles = {
  clutch: { id: string; speciesId: string }
  separationId: string
  place: Place
  on: PlainDate
  moults: number
  /** One label number for each animal. */
  numbers: readonly number[]
  recordedBy: string | null
}
export type Single = { id: string; label: string; entryId: string }

/** Turns siblings into single animals: record, container, housing and the entry in the ledger, for each. */
export async function openSingles(tx: Tx, workspace: Workspace, singles: NewSingles): Promise<Single[]> {
  const { workspaceId, labelKey } = workspace
  const { clutch, on, moults, numbers, place, separationId, recordedBy } = singles
  const made = await tx.individual.createManyAndReturn({
    data: numbers.map((number) => ({
      workspaceId,
      label: individualCode(number, String(labelKey)),
      speciesId: clutch.speciesId,
      clutchId: clutch.id,
      whereabouts: 'together' as const,
      baselineOn: fromPlainDate(on),
      baselineMoults: moults,
    })),
    select: { id: true, label: true },
  })
  await openStays(tx, workspaceId, { individualIds: made.map(({ id }) => id), place, on })
  const entries = await tx.headCountEntry.createManyAndReturn({
    data: made.map(({ id }) => ({
      workspaceId,
      clutchId: clutch.id,
      individualId: id,
      from: 'together' as const,
      to: 'single' as const,
      count: 1,
      on: fromPlainDate(on),
      separationId,
      recordedBy,
    })),
    select: { id: true, individualId: true },
  })
  const entryOf = new Map(entries.map((entry) => [entry.individualId, entry.id]))
  return made.map(({ id, label }) => {
    const entryId = entryOf.get(id)
    invariant(entryId, 'each single animal has its entry')
    return { id, label, entryId }
  })
}
