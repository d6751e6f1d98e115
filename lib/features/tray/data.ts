import type { LabelPayload, LabelRunPayload } from '@/lib/documents/label/render'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { trayCode } from '@/lib/domain/label/code'
import { chooseMoulted, trayStages } from '@/lib/domain/tray/choose'
import { loadLabels } from '@/lib/features/care-sheet/data'
import {
  type IndividualRow,
  listIndividuals,
  lockIndividuals,
  requireIndividuals,
} from '@/lib/features/individual/data'
import type { SentMoult } from '@/lib/features/moult/schema'
import { listRunAnimals, requireSeparation } from '@/lib/features/separation/data'
import type { TrayMoults } from '@/lib/features/tray/schema'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import type { Warning } from '@/lib/platform/warned'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type TrayRow = { id: string; label: string; clutchId: string; clutchLabel: string; on: PlainDate }
export type TrayWithAnimals = TrayRow & { animals: IndividualRow[] }

const MOST_ANIMALS = 1000

/** Trays, newest first; those that nobody stands on any more are left out. */
export async function listTrays(tx: Tx, workspaceId: WorkspaceId): Promise<(TrayRow & { count: number })[]> {
  const rows = await tx.tray.findMany({
    where: { workspaceId },
    select: {
      id: true,
      label: true,
      clutchId: true,
      on: true,
      clutch: { select: { label: true } },
      _count: { select: { individuals: { where: { whereabouts: 'single' } } } },
    },
    orderBy: { id: 'desc' },
    take: 200,
  })
  return rows
    .map(({ clutch, on, _count, ...row }) => ({
      ...row,
      clutchLabel: clutch.label,
      on: toPlainDate(on),
      count: _count.individuals,
    }))
    .filter(({ count }) => count > 0)
}

/** One tray with the animals that stand on it. @throws AppError not-found */
export async function requireTray(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<TrayWithAnimals> {
  const row = await tx.tray.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: { id: true, label: true, clutchId: true, on: true, clutch: { select: { label: true } } },
  })
  if (!row) throw refuseUnknown('tray')
  const { clutch, on, ...tray } = row
  const filter = { trayId: id, state: 'single' } as const
  const animals = await listIndividuals(tx, workspaceId, { filter, limit: MOST_ANIMALS })
  return { ...tray, clutchLabel: clutch.label, on: toPlainDate(on), animals }
}

type Asked = { ids: readonly string[]; address: string }

/** Labels of animals in their order: one of its own for each, and one for each tray that some of them stand on. */
export async function loadRunOrTrayLabels(
  tx: Tx,
  workspace: Workspace,
  { ids, address }: Asked,
): Promise<LabelRunPayload> {
  const animals = await requireIndividuals(tx, workspace.workspaceId, ids)
  const run = await loadLabels(tx, workspace, { ids: [...ids], choice: {}, address })
  const seen = new Set<string>()
  const labels = run.labels.flatMap((label, place): LabelPayload[] => {
    const tray = animals[place]?.trayLabel
    if (!tray) return [label]
    if (seen.has(tray)) return []
    seen.add(tray)
    const stages = trayStages(animals.filter(({ trayLabel }) => trayLabel === tray))
    const [only] = stages
    const naming = instarNamingOf(workspace)
    const stage =
      stages.length === 1 && only && label.stage ? { moults: only.moults, isAdult: false, naming } : null
    return [
      { ...label, code: tray, stage, lastMoultOn: null, url: `${address}/w/${workspace.slug}/c/${tray}` },
    ]
  })
  return { ...run, labels }
}

/**
 * Keeps the cups of a run as one: those who are still here and stand on no tray yet. A second time it finds nobody left,
 * and says which tray they are on.
 * @throws AppError more-than-left where no cup of the run is here
 */
export async function openTray(
  tx: Tx,
  { workspaceId }: Workspace,
  { run: runId }: { run: string },
): Promise<{ id: string; label: string; count: number }> {
  const run = await requireSeparation(tx, workspaceId, runId)
  const cups = await listRunAnimals(tx, workspaceId, run.id)
  const locked = await lockIndividuals(
    tx,
    workspaceId,
    cups.map(({ id }) => id),
  )
  const here = locked.filter(({ whereabouts }) => whereabouts === 'single')
  const loose = here.filter(({ trayId }) => trayId === null)
  const [standing] = here.filter(({ trayId }) => trayId !== null)
  if (loose.length === 0 && standing?.trayId)
    return { id: standing.trayId, label: standing.trayLabel ?? '', count: here.length }
  if (loose.length === 0) throw new AppError('more-than-left', 'No cup of this run is here any more.')
  const number = await takeNumbers(tx, workspaceId, { name: 'tray', count: 1 })
  const tray = await tx.tray.create({
    data: { workspaceId, label: trayCode(number), clutchId: run.clutchId, on: fromPlainDate(run.on) },
    select: { id: true, label: true },
  })
  await tx.individual.updateMany({
    where: { workspaceId, id: { in: loose.map(({ id }) => id) }, trayId: null },
    data: { trayId: tray.id, version: { increment: 1 } },
  })
  return { ...tray, count: loose.length }
}

/**
 * Of whom it is recorded that so many of a tray have moulted: nobody tells them apart, so those with the fewest moults.
 * @throws AppError more-than-left
 */
export async function listTrayMoults(
  tx: Tx,
  workspaceId: WorkspaceId,
  { tray: id, count, on }: TrayMoults,
): Promise<SentMoult[]> {
  const tray = await requireTray(tx, workspaceId, id)
  const nymphs = tray.animals.filter(({ adultSinceOn }) => adultSinceOn === null)
  const moulted = chooseMoulted(nymphs, count)
  if (moulted.length < count)
    throw new AppError('more-than-left', `Only ${moulted.length} nymphs are on ${tray.label}.`, {
      fields: [{ path: 'count', message: `Only ${moulted.length} nymphs are there.` }],
    })
  return moulted.map((animal): SentMoult => {
    const place = { at: '', spanField: 'seenBetween' as const, isOneOfMany: true }
    return { individual: animal.id, on, outcome: 'good', final: false, note: '', ...place }
  })
}

/** The same is said of each of them: once is enough. */
export function sayOnce(warnings: readonly Warning[]): Warning[] {
  return [...new Map(warnings.map((warning) => [warning.code, warning])).values()]
}
