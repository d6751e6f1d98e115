import type { LabelRunPayload } from '@/lib/documents/label/render'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { type InstarNaming, instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { individualCodes } from '@/lib/domain/label/code'
import { reservedNumbers } from '@/lib/domain/label/run'
import type { BenchOpening } from '@/lib/domain/separation/bench-run'
import { sayDeadline } from '@/lib/domain/separation/wording'
import { loadLabels } from '@/lib/features/care-sheet/data'
import {
  type ClutchRow,
  forecastClutch,
  likelyMoults,
  loadClutchGround,
  requireClutch,
  zoneOfClutch,
} from '@/lib/features/clutch/data'
import { type ContainerKindRow, listContainerKinds } from '@/lib/features/container/data'
import {
  countRunEntries,
  listOpenSeparations,
  listRunAnimals,
  listTakenLabels,
  requireSeparation,
  type SeparationRow,
} from '@/lib/features/separation/data'
import { listZones, type ZoneRow } from '@/lib/features/zone/data'
import { AppError } from '@/lib/platform/errors'
import { loadPage, requireIdParam } from '@/lib/platform/page'

export type BenchStartPage = {
  clutch: ClutchRow
  scientificName: string
  today: PlainDate
  zoneId: string | null
  kinds: ContainerKindRow[]
  zones: ZoneRow[]
  stages: { moults: number; label: string }[]
  likelyMoults: number
  openRuns: SeparationRow[]
}

/** What has to be chosen before the first tap. */
export function loadBenchStart(slug: string, id: string): Promise<BenchStartPage> {
  return loadPage({ slug, permission: 'clutch:write' }, async ({ tx, workspace }) => {
    const { workspaceId, today } = workspace
    const clutch = await requireClutch(tx, workspaceId, { id: requireIdParam(id) })
    const ground = await loadClutchGround(tx, workspace)
    const likely = likelyMoults(forecastClutch(clutch, ground))
    return {
      clutch,
      scientificName: ground.species.get(clutch.speciesId)?.scientificName ?? '',
      today,
      zoneId: zoneOfClutch(clutch),
      kinds: forSingles(await listContainerKinds(tx, workspaceId)),
      zones: await listZones(tx, workspaceId),
      stages: listStages(instarNamingOf(workspace), likely),
      likelyMoults: likely,
      openRuns: await listOpenSeparations(tx, workspaceId, clutch.id),
    }
  })
}

/** Kinds that hold one animal, and the one the run was begun with. */
function forSingles(kinds: ContainerKindRow[], chosenId?: string): ContainerKindRow[] {
  return kinds.filter(({ id, single }) => single || id === chosenId)
}

function listStages(naming: InstarNaming, likely: number) {
  return Array.from({ length: Math.max(5, likely + 3) }, (_, moults) => ({
    moults,
    label: instarLabel(moults, naming),
  }))
}

export type BenchPage = {
  workspaceId: string
  personId: string
  run: SeparationRow
  clutch: { id: string; label: string; scientificName: string }
  kinds: { id: string; name: string }[]
  /** Codes of the numbers the run has set aside, in their order. */
  labels: string[]
  opening: BenchOpening
  likelyMoults: number
  /** Until when those who stay can stay. */
  deadline: string
}

/** A run at the bench, with everything it needs to go on without a connection. */
export function loadBench(slug: string, { id, run: runId }: { id: string; run: string }): Promise<BenchPage> {
  return loadPage({ slug, permission: 'clutch:write' }, async ({ tx, workspace, scope }) => {
    const { workspaceId } = workspace
    const clutch = await requireClutch(tx, workspaceId, { id: requireIdParam(id) })
    const run = await requireSeparation(tx, workspaceId, requireIdParam(runId))
    if (run.clutchId !== clutch.id) throw new AppError('not-found', 'There is no such run of this clutch.')
    const ground = await loadClutchGround(tx, workspace)
    const forecast = forecastClutch(clutch, ground)
    const counts = await countRunEntries(tx, workspaceId, run.id)
    const codes = individualCodes(
      { first: run.firstNumber, count: reservedNumbers(run.planned) },
      String(workspace.labelKey),
    )
    const taken = new Set(await listTakenLabels(tx, workspaceId, codes))
    const used = codes.findLastIndex((code) => taken.has(code)) + 1
    return {
      workspaceId,
      personId: scope.personId ?? '',
      run,
      clutch: {
        id: clutch.id,
        label: clutch.label,
        scientificName: ground.species.get(clutch.speciesId)?.scientificName ?? '',
      },
      kinds: forSingles(await listContainerKinds(tx, workspaceId), run.containerKindId).map(
        ({ id, name }) => ({
          id,
          name,
        }),
      ),
      labels: codes,
      opening: {
        ...counts,
        together: clutch.headCount.together,
        isCounted: clutch.counted,
        nextNumber: run.firstNumber + used,
        endNumber: run.firstNumber + codes.length,
      },
      likelyMoults: likelyMoults(forecast && forecastClutch(clutch, { ...ground, today: run.on })),
      deadline: forecast ? sayDeadline(forecast, ground.today) : '',
    }
  })
}

/** The labels of a run's animals, in the order of their cups; null where no cup was filled. */
export function loadRunLabels(
  slug: string,
  asked: { id: string; run: string; address: string },
): Promise<LabelRunPayload | null> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace }) => {
    const run = await requireSeparation(tx, workspace.workspaceId, requireIdParam(asked.run))
    if (run.clutchId !== asked.id) throw new AppError('not-found', 'There is no such run of this clutch.')
    const animals = await listRunAnimals(tx, workspace.workspaceId, run.id)
    if (animals.length === 0) return null
    const ids = animals.map(({ id }) => id)
    return loadLabels(tx, workspace, { ids, choice: {}, address: asked.address })
  })
}
