import type { LabelRunPayload } from '@/lib/documents/label/render'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { type InstarNaming, instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { getLabelSheet } from '@/lib/domain/label/sheet'
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
  listOpenSeparations,
  listRunAnimals,
  requireSeparation,
  type SeparationRow,
} from '@/lib/features/separation/data'
import type { RunLabelsQuery } from '@/lib/features/separation/schema'
import { loadRunOrTrayLabels } from '@/lib/features/tray/data'
import { listZones, type ZoneRow } from '@/lib/features/zone/data'
import { AppError } from '@/lib/platform/errors'
import { loadPage, requireIdParam } from '@/lib/platform/page'

export type BenchStartPage = {
  workspaceId: string
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
      workspaceId,
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

/** Kinds that hold one animal. */
function forSingles(kinds: ContainerKindRow[]): ContainerKindRow[] {
  return kinds.filter(({ single }) => single)
}

function listStages(naming: InstarNaming, likely: number) {
  return Array.from({ length: Math.max(5, likely + 3) }, (_, moults) => ({
    moults,
    label: instarLabel(moults, naming),
  }))
}

/** The labels of a run's animals, in the order of their cups; null where no cup was filled. */
export function loadRunLabels(
  slug: string,
  asked: { id: string; run: string; address: string; paper: RunLabelsQuery },
): Promise<LabelRunPayload | null> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace }) => {
    const run = await requireSeparation(tx, workspace.workspaceId, requireIdParam(asked.run))
    if (run.clutchId !== asked.id) throw new AppError('not-found', 'There is no such run of this clutch.')
    const animals = await listRunAnimals(tx, workspace.workspaceId, run.id)
    if (animals.length === 0) return null
    const ids = animals.map(({ id }) => id)
    const labels = await loadRunOrTrayLabels(tx, workspace, { ids, address: asked.address })
    const sheet = getLabelSheet(asked.paper.layout)
    return sheet ? { ...labels, layout: { sheet, startAt: asked.paper.start } } : labels
  })
}
