import type { PlainDate } from '@/lib/domain/calendar/date'
import type { LearnedLine } from '@/lib/domain/culture/learning'
import { curveOf, mainRoomOf } from '@/lib/domain/culture/room-shelf'
import type { Figure } from '@/lib/domain/prey/figure'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type LoadedShelf, loadShelf } from '@/lib/features/culture/data'
import { listSeenFigures, type PreyAnswer } from '@/lib/features/prey/schema'
import { refuseUnknown } from '@/lib/platform/errors'
import { loadPage } from '@/lib/platform/page'

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

export type PreyLineOnPage = {
  slug: string
  name: string
  kind: 'culture' | 'pupae' | 'bought'
  kept: boolean
  number: number
  version: number
  isOwn: boolean
  own: number
  learned: LearnedLine | null
}
export type PreyPage = { mayWrite: boolean; lines: PreyLineOnPage[] }

/** Every line, with what was learned of those that are cultured. */
export async function loadPreyPage(slug: string): Promise<PreyPage> {
  return loadPage({ slug, permission: 'live-food:read' }, async ({ tx, scope, workspace }) => {
    const shelf = await loadShelf(tx, workspace, { days: 1 })
    return {
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      lines: shelf.lines.map((room) => describeLine(room, shelf)),
    }
  })
}

function describeLine(room: LoadedShelf['lines'][number], shelf: LoadedShelf): PreyLineOnPage {
  const { line, kept, number, version, isOwn } = room
  const figures = listSeenFigures(room, true)
  return {
    slug: line.id,
    name: line.name,
    kind: line.supply.kind,
    kept,
    number,
    version,
    isOwn,
    own: figures.filter(({ source }) => source.kind === 'own').length,
    learned: mainRoomOf(line.id, shelf, shelf.learned).learned ?? null,
  }
}

export type PreyLinePage = {
  today: PlainDate
  mayWrite: boolean
  currency: string
  line: PreyLineOnPage
  figures: Figure[]
  rooms: { zoneName: string; temperatureC: number; learned: LearnedLine | null }[]
}

/** One line: every figure with its source, and beside it what was learned here. @throws not found */
export async function loadPreyLinePage(slug: string, line: string): Promise<PreyLinePage> {
  return loadPage({ slug, permission: 'live-food:read' }, async ({ tx, scope, workspace }) => {
    const shelf = await loadShelf(tx, workspace, { days: 1 })
    const room = shelf.lines.find((each) => each.line.id === line)
    if (!room) throw refuseUnknown('prey line')
    return {
      today: workspace.today,
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      currency: workspace.currency,
      line: describeLine(room, shelf),
      figures: listSeenFigures(room, isAllowed(scope.role, 'cost:read')),
      rooms: curveOf(room.line, shelf).map(({ zoneId, temperatureC, learned }) => ({
        zoneName: shelf.zones.find(({ id }) => id === zoneId)?.name ?? '',
        temperatureC,
        learned,
      })),
    }
  })
}
