import { curveOf } from '@/lib/domain/culture/room-shelf'
import {
  type CultureFilter,
  type CultureRow,
  type LoadedShelf,
  listCultures,
  loadShelf,
} from '@/lib/features/culture/data'
import type { CultureAnswer } from '@/lib/features/culture/schema'
import type { PreyAnswer } from '@/lib/features/prey/schema'
import { listSeenFigures } from '@/lib/features/prey/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { Workspace } from '@/lib/platform/workspace'

/** A jar as the API says it. */
export function presentCulture(row: CultureRow, shelf: LoadedShelf): CultureAnswer {
  const { line, zoneId, harvests, ...rest } = row
  const suspicion = shelf.suspicions.get(row.id)
  const standing = shelf.standing.find(({ jar }) => jar.id === row.id)
  return {
    ...rest,
    line,
    zone: zoneId,
    isSuspect: suspicion !== undefined,
    suspectUntil: suspicion?.until ?? null,
    expectedLeft: standing ? Math.round(standing.outlook.left * 10) / 10 : null,
    discardOn: standing?.outlook.discardOn ?? null,
    harvests: harvests.map(({ version: _, ...harvest }) => harvest),
  }
}

/** One page of jars, each with what is expected of it today. */
export async function loadCultureAnswers(
  tx: Tx,
  workspace: Workspace,
  asked: CultureFilter,
): Promise<CultureAnswer[]> {
  const shelf = await loadShelf(tx, workspace)
  const rows = await listCultures(tx, workspace.workspaceId, asked)
  return rows.map((row) => presentCulture(row, shelf))
}

/** A prey line as the API says it, with its curve in each room it stands in. */
export function presentPrey(shelf: LoadedShelf, maySeeCosts: boolean): PreyAnswer[] {
  return shelf.lines.map((room) => ({
    id: room.line.id,
    name: room.line.name,
    kind: room.line.supply.kind,
    kept: room.kept,
    isOwn: room.isOwn,
    version: room.number,
    values: listSeenFigures(room, maySeeCosts).map(({ isCost: _, value, ...figure }) => ({
      ...figure,
      value: typeof value === 'number' || value === null ? value : [...value],
    })),
    curves: curveOf(room.line, shelf).map(({ zoneId, learned, ...curve }) => ({
      zone: zoneId,
      ...curve,
      learned: learned && {
        cultures: learned.cultures,
        mean: learned.mean,
        cv: learned.cv,
        crashChance: learned.crashChance,
        delayFactor: learned.delayFactor,
      },
    })),
  }))
}

/** One jar as the API says it. @throws AppError not-found */
export async function loadCultureAnswer(tx: Tx, workspace: Workspace, id: string): Promise<CultureAnswer> {
  const [culture] = await loadCultureAnswers(tx, workspace, { ids: [id], limit: 1 })
  if (!culture) throw refuseUnknown('culture')
  return culture
}
