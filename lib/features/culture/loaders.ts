import type { PlainDate } from '@/lib/domain/calendar/date'
import { listJarWords } from '@/lib/domain/culture/jar-word'
import type { LearnedLine } from '@/lib/domain/culture/learning'
import { type StandingJar, USUAL_C } from '@/lib/domain/culture/room-shelf'
import { saySuspect } from '@/lib/domain/culture/shelf'
import { isAllowed } from '@/lib/domain/role/permissions'
import {
  type CultureFilter,
  type CultureRow,
  type LoadedShelf,
  listCultures,
  loadShelf,
  requireCulture,
} from '@/lib/features/culture/data'
import type { CultureAnswer } from '@/lib/features/culture/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { loadPage } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

/** A jar as the API says it. */
export function presentCulture(row: CultureRow, shelf: LoadedShelf): CultureAnswer {
  const { line, zoneId, harvests, moves, ...rest } = row
  const suspicion = shelf.suspicions.get(row.id)
  const standing = shelf.standing.find(({ jar }) => jar.id === row.id)
  return {
    ...rest,
    line,
    zone: zoneId,
    moves: moves.map(({ on, fromZoneId: from, toZoneId: to }) => ({ on, from, to })),
    isSuspect: suspicion !== undefined,
    suspectUntil: suspicion?.until ?? null,
    expectedLeft: standing ? Math.round(standing.outlook.left * 10) / 10 : null,
    uncounted: standing ? Math.round(standing.outlook.uncounted.mean * 10) / 10 : null,
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

/** One jar as the API says it. @throws AppError not-found */
export async function loadCultureAnswer(tx: Tx, workspace: Workspace, id: string): Promise<CultureAnswer> {
  const [culture] = await loadCultureAnswers(tx, workspace, { ids: [id], limit: 1 })
  if (!culture) throw refuseUnknown('culture')
  return culture
}

export type JarOnPage = StandingJar<CultureRow> & {
  lineName: string
  suspectWords: string | null
  /** What is different about it and changes what to expect: cool, moved, too full. */
  ways: string[]
}
export type ShelfOnPage = { key: string; zoneName: string; shelf: string; jars: JarOnPage[] }
export type LineChoice = { value: string; label: string }
export type CulturesPage = {
  today: PlainDate
  mayWrite: boolean
  shelves: ShelfOnPage[]
  places: number
  lines: LineChoice[]
  zones: LineChoice[]
  /** Jars that may give starters, of each line. */
  sources: (LineChoice & { line: string })[]
}

/** The shelf: every standing jar with what is expected of it. */
export async function loadCulturesPage(slug: string): Promise<CulturesPage> {
  return loadPage({ slug, permission: 'live-food:read' }, async ({ tx, scope, workspace }) => {
    const { today } = workspace
    const shelf = await loadShelf(tx, workspace, { days: 60 })
    return {
      today,
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      shelves: groupShelves(shelf, workspace),
      places: shelf.standing.length,
      ...choicesOf(shelf),
    }
  })
}

function choicesOf(shelf: LoadedShelf): Pick<CulturesPage, 'lines' | 'zones' | 'sources'> {
  return {
    lines: shelf.lines
      .filter(({ line, kept }) => kept && line.supply.kind === 'culture')
      .map(({ line }) => ({ value: line.id, label: line.name })),
    zones: shelf.zones
      .filter(({ archivedOn }) => archivedOn === null)
      .map(({ id, name }) => ({ value: id, label: name })),
    sources: shelf.standing
      .filter(({ outlook }) => !outlook.suspicion && outlook.state === 'giving')
      .map(({ jar }) => ({ value: jar.id, label: jar.label, line: jar.line })),
  }
}

type Told = Pick<Workspace, 'today' | 'temperatureUnit'>

function describeJar(standing: StandingJar<CultureRow>, shelf: LoadedShelf, told: Told): JarOnPage {
  const { jar, outlook } = standing
  const { today } = told
  const labelOf = (id: string) => shelf.jars.find((each) => each.id === id)?.label ?? 'another jar'
  return {
    ...standing,
    lineName: shelf.lines.find(({ line }) => line.id === jar.line)?.line.name ?? jar.line,
    suspectWords: outlook.suspicion ? saySuspect(outlook.suspicion, labelOf, today) : null,
    ways: waysOf(standing, shelf, told),
  }
}

function waysOf(standing: StandingJar<CultureRow>, shelf: LoadedShelf, told: Told): string[] {
  const supply = shelf.lines.find(({ line }) => line.id === standing.jar.line)?.line.supply
  if (supply?.kind !== 'culture') return []
  return listJarWords(standing.jar, standing, {
    today: told.today,
    unit: told.temperatureUnit,
    curve: supply.curve.value,
    usualStarters: supply.starters.value,
    discardAfterDays: supply.discardAfterDays.value,
    zoneName: (zoneId) => shelf.zones.find(({ id }) => id === zoneId)?.name ?? 'another zone',
    temperatureOf: (zoneId) => shelf.temperatureC.get(zoneId) ?? USUAL_C,
  })
}

function groupShelves(shelf: LoadedShelf, told: Told): ShelfOnPage[] {
  const groups = new Map<string, ShelfOnPage>()
  for (const standing of shelf.standing) {
    const { zoneId, shelf: board } = standing.jar
    const key = `${zoneId}/${board.toLowerCase()}`
    const zoneName = shelf.zones.find(({ id }) => id === zoneId)?.name ?? ''
    const group = groups.get(key) ?? { key, zoneName, shelf: board, jars: [] }
    groups.set(key, group)
    group.jars.push(describeJar(standing, shelf, told))
  }
  for (const { jars } of groups.values())
    jars.sort((a, b) => a.jar.line.localeCompare(b.jar.line) || (a.jar.startedOn < b.jar.startedOn ? -1 : 1))
  return [...groups.values()].sort((a, b) =>
    `${a.zoneName}/${a.shelf}`.localeCompare(`${b.zoneName}/${b.shelf}`),
  )
}

export type CulturePage = CulturesPage & {
  jar: CultureRow
  /** Null once it has left the shelf. */
  standing: JarOnPage | null
  lineName: string
  sourceLabel: string | null
  daughters: { id: string; label: string }[]
  learned: LearnedLine | null
  expected: readonly number[]
}

/** One jar: the curve it was expected to follow, what was taken out of it, and what to do with it. */
export async function loadCulturePage(slug: string, id: string): Promise<CulturePage> {
  return loadPage({ slug, permission: 'live-food:read' }, async ({ tx, scope, workspace }) => {
    const { today, workspaceId } = workspace
    const shelf = await loadShelf(tx, workspace, { days: 60 })
    const jar = shelf.jars.find((each) => each.id === id) ?? (await requireCulture(tx, workspaceId, id))
    const standing = shelf.standing.find((each) => each.jar.id === id)
    const here = shelf.learned.find(({ line, zoneId }) => line === jar.line && zoneId === jar.zoneId)
    const law = standing?.law ?? here?.law
    const labelled = (other: CultureRow) => ({ id: other.id, label: other.label })
    return {
      today,
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      shelves: [],
      places: shelf.standing.length,
      ...choicesOf(shelf),
      jar,
      standing: standing ? describeJar(standing, shelf, workspace) : null,
      lineName: shelf.lines.find(({ line }) => line.id === jar.line)?.line.name ?? jar.line,
      sourceLabel: shelf.jars.find((other) => other.id === jar.startersFrom)?.label ?? null,
      daughters: shelf.jars.filter(({ startersFrom }) => startersFrom === id).map(labelled),
      learned: here?.learned ?? null,
      expected: law ? law.curve.map((share) => share * law.mean) : [],
    }
  })
}
