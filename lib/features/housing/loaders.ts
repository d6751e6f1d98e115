import { addDays, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { type ContainerWeek, containerOutlook, shoppingList } from '@/lib/domain/housing/container-week'
import { fittingKinds } from '@/lib/domain/housing/fitting'
import { type MoveUp, moveUpOf } from '@/lib/domain/housing/move-up'
import { formatCode } from '@/lib/domain/label/code'
import { isAllowed } from '@/lib/domain/role/permissions'
import { forecastClutch, listClutches, loadClutchGround } from '@/lib/features/clutch/data'
import { type ContainerKindRow, listContainerKinds } from '@/lib/features/container/data'
import type { ForecastGround } from '@/lib/features/egg-case/data'
import { changesOf, growingOf, type HousedRow, listHoused, presentStay } from '@/lib/features/housing/data'
import { listZones } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

/** One animal that needs a larger container, as the page lists it. */
export type MoveUpRow = {
  id: string
  label: string
  scientificName: string
  stage: string
  kindName: string
  urgency: MoveUp['urgency']
  need: Measures
  nextNeed: Measures | null
  to: { id: string; name: string } | null
  lastSafeOn: PlainDate | null
  notBefore: PlainDate | null
}
export type Measures = { heightMm: number; widthMm: number }

export type KindOutlook = { id: string; name: string; free: number; weeks: ContainerWeek[] }
export type ShoppingRow = { id: string; name: string; count: number; by: PlainDate }

export type HousingPage = {
  today: PlainDate
  mayPlace: boolean
  mayOrder: boolean
  hasKinds: boolean
  zones: { id: string; name: string; moves: MoveUpRow[] }[]
  kinds: KindOutlook[]
  shopping: ShoppingRow[]
  /** Animals for whom no kind is large enough, and what one would have to measure inside. */
  unhoused: (Measures & { animals: number }) | null
}

const WEEKS_AHEAD = 8

/** Who needs a larger container and by when, and whether there are enough of them in the weeks to come. */
export function loadHousingPage(slug: string): Promise<HousingPage> {
  return loadPage({ slug, permission: 'container:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const rows = await listHoused(tx, workspaceId)
    const ground = await loadClutchGround(tx, workspace, { animals: rows })
    const kinds = await listContainerKinds(tx, workspaceId)
    const animals = growingOf(rows, { kinds, ground, workspace })
    const zones = await listZones(tx, workspaceId)
    const until = addDays(today, 7 * WEEKS_AHEAD)
    const singles = kinds.filter(({ single }) => single)
    const question = {
      kinds: singles.map(({ id, free, ordered }) => ({
        id,
        free: Math.max(0, free),
        ordered: ordered.map(({ on, count }) => ({ on: maxDate(today, on), count })),
      })),
      changes: changesOf(animals, { kinds, ground, until }),
      parting: await listPartingNeeds(tx, workspace, { ground, kinds: singles }),
      from: today,
      weeks: WEEKS_AHEAD,
    }
    const nameOf = (id: string) => kinds.find((kind) => kind.id === id)?.name ?? ''
    const moves = animals.flatMap((animal) => moveRow(animal, { kinds, today }))
    const unhoused = moves.filter(({ to }) => to === null).map(({ need, nextNeed }) => nextNeed ?? need)
    return {
      today,
      mayPlace: isAllowed(scope.role, 'individual:place'),
      mayOrder: isAllowed(scope.role, 'container:write'),
      hasKinds: singles.length > 0,
      zones: zones.flatMap(({ id, name }) => {
        const here = moves.filter(({ zoneId }) => zoneId === id).sort(soonestFirst)
        return here.length > 0 ? [{ id, name, moves: here }] : []
      }),
      kinds: containerOutlook(question).map(({ kindId, weeks }) => ({
        id: kindId,
        name: nameOf(kindId),
        free: singles.find(({ id }) => id === kindId)?.free ?? 0,
        weeks,
      })),
      shopping: shoppingList(question).map(({ kindId, count, by }) => ({
        id: kindId,
        name: nameOf(kindId),
        count,
        by,
      })),
      unhoused:
        unhoused.length === 0
          ? null
          : {
              animals: unhoused.length,
              heightMm: Math.max(...unhoused.map(({ heightMm }) => heightMm)),
              widthMm: Math.max(...unhoused.map(({ widthMm }) => widthMm)),
            },
    }
  })
}

function moveRow(
  { row, species, growing, stage }: HousedRow,
  { kinds, today }: { kinds: readonly ContainerKindRow[]; today: PlainDate },
): (MoveUpRow & { zoneId: string | null })[] {
  const move = moveUpOf(growing, kinds, today)
  const stay = presentStay(row)
  if (!move || !stay) return []
  const to = kinds.find(({ id }) => id === move.to?.id)
  return [
    {
      id: row.id,
      label: formatCode(row.label),
      scientificName: species.scientificName,
      stage,
      kindName: stay.kindName,
      zoneId: stay.zoneId,
      urgency: move.urgency,
      need: measuresOf(move.need),
      nextNeed: move.nextNeed && measuresOf(move.nextNeed),
      to: to ? { id: to.id, name: to.name } : null,
      lastSafeOn: move.lastSafeOn,
      notBefore: move.notBefore,
    },
  ]
}

function measuresOf({ heightMm, widthMm }: Measures): Measures {
  return { heightMm, widthMm }
}

function soonestFirst(one: MoveUpRow, other: MoveUpRow): number {
  const key = ({ urgency, lastSafeOn }: MoveUpRow) => `${urgency === 'now' ? 0 : 1} ${lastSafeOn ?? '9999'}`
  return key(one) < key(other) ? -1 : 1
}

const CLUTCH_LIMIT = 500

/** A container each for the siblings who are together, by the day they should be apart. */
async function listPartingNeeds(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { ground, kinds }: { ground: ForecastGround; kinds: readonly ContainerKindRow[] },
) {
  const rows = await listClutches(tx, workspaceId, { isTogether: true, limit: CLUTCH_LIMIT })
  return rows.flatMap((row) => {
    const profile = ground.species.get(row.speciesId)?.profile
    const forecast = row.headCount.together > 1 ? forecastClutch(row, ground) : null
    if (!profile || !forecast?.dueOn) return []
    const moults = profile.separation.apartAtMoults.value ?? 0
    const kind = fittingKinds(kinds, profile, { sex: 'unsexed', moults })[0]
    return kind
      ? [{ on: maxDate(today, forecast.dueOn), toKindId: kind.id, animals: row.headCount.together }]
      : []
  })
}
