import { maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { mainRoomOf } from '@/lib/domain/culture/room-shelf'
import { saySuspect } from '@/lib/domain/culture/shelf'
import { type CutOff, listCutOffs } from '@/lib/domain/food-demand/cut-off'
import { FOOD_DEMAND, type FoodDemand, foodDemandSteps } from '@/lib/domain/food-demand/demand'
import { type LineOutlook, outlookByLine, type SupplyGround } from '@/lib/domain/food-demand/outlook'
import { demandByWeek } from '@/lib/domain/food-demand/weekly'
import { leftOver } from '@/lib/domain/food-plan/open-task'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type CultureRow, listRecentCultures, workOutJars } from '@/lib/features/culture/data'
import { type DemandGround, loadDemandGround } from '@/lib/features/food-demand/data'
import type { FoodDemandAnswer } from '@/lib/features/food-demand/schema'
import { lastCountByLine, stockByLine } from '@/lib/features/food-room/data'
import { loadPage } from '@/lib/platform/page'
import { workOut } from '@/lib/platform/solver'

const round = (value: number) => Math.round(value * 10) / 10

/** The need of live food as the API says it. */
export function presentFoodDemand(
  demand: FoodDemand,
  asked: { from: PlainDate; weeks: number; ground: DemandGround },
): FoodDemandAnswer {
  const { from, weeks, ground } = asked
  const nameOf = (line: string) => ground.lines.find(({ id }) => id === line)?.name ?? line
  return {
    from,
    weeks: demandByWeek(demand, { from, weeks }).map((week) => ({
      week: week.from,
      until: week.until,
      items: week.lines
        .filter(({ mean }) => mean > 0.05)
        .map(({ line, mean, sd, p10, p90, byStage }) => ({
          prey: line,
          name: nameOf(line),
          mean: round(mean),
          sd: round(sd),
          p10: round(p10),
          p90: round(p90),
          byStage: byStage.map(({ stage, animals, items }) => ({
            stage,
            animals: round(animals),
            items: round(items),
          })),
        })),
    })),
    unfed: sayUnfed(demand, ground).map(({ species, stage, animals }) => ({
      species,
      stage,
      animals: round(animals),
    })),
    leftOut: ground.leftOut,
  }
}

/** Stages nothing feeds, by the species' name. */
export function sayUnfed(demand: FoodDemand, { ground }: Pick<DemandGround, 'ground'>): FoodDemand['unfed'] {
  return demand.unfed.map(({ species, ...rest }) => ({
    ...rest,
    species: ground.species.get(species)?.scientificName ?? species,
  }))
}

export type LiveFoodPage = {
  today: PlainDate
  mayWrite: boolean
  workspaceName: string
  outlooks: LineOutlook[]
  unfed: FoodDemand['unfed']
  leftOut: DemandGround['leftOut']
  cutOffs: CutOff[]
  suspects: { id: string; label: string; words: string }[]
  orders: { id: string; version: number; words: string; isLate: boolean }[]
  jars: number
}

const PAGE_WEEKS = 10

/** What is needed and what is coming, week by week: collected in one transaction, worked out after it. */
export async function loadLiveFoodPage(slug: string): Promise<LiveFoodPage> {
  const collected = await loadPage(
    { slug, permission: 'live-food:read' },
    async ({ tx, scope, workspace }) => ({
      ground: await loadDemandGround(tx, workspace, { weeks: PAGE_WEEKS }),
      jars: await listRecentCultures(tx, workspace),
      mayWrite: isAllowed(scope.role, 'live-food:write'),
      today: workspace.today,
      workspaceName: workspace.name,
    }),
  )
  const { ground, jars, mayWrite, today, workspaceName } = collected
  const shelf = shelfOf(ground, jars, today)
  const demand = await workOut(FOOD_DEMAND, ground.input, foodDemandSteps)
  const weeks = demandByWeek(demand, { from: today, weeks: PAGE_WEEKS })
  const labelOf = (id: string) => jars.find((jar) => jar.id === id)?.label ?? 'another jar'
  return {
    today,
    mayWrite,
    workspaceName,
    outlooks: outlookByLine(weeks, supplyGround(ground, shelf, { jars, today })),
    unfed: sayUnfed(demand, ground),
    leftOut: ground.leftOut,
    cutOffs: cutOffsOf(ground, today),
    suspects: shelf.standing.flatMap(({ jar, outlook }) =>
      outlook.suspicion
        ? [{ id: jar.id, label: jar.label, words: saySuspect(outlook.suspicion, labelOf, today) }]
        : [],
    ),
    orders: ground.foodRoom.orders
      .filter(({ arrivedOn }) => arrivedOn === null)
      .map(({ id, version, line, packs, dueOn }) => ({
        id,
        version,
        isLate: dueOn < today,
        words: `${writeCount(packs, 'pack')} of ${nameOfLine(ground, line)}, ${dueOn < today ? 'was due' : 'due'} ${writeDay(dueOn, today)}`,
      })),
    jars: shelf.standing.length,
  }
}

function nameOfLine({ allLines }: Pick<DemandGround, 'allLines'>, slug: string): string {
  return allLines.find(({ line }) => line.id === slug)?.line.name ?? slug
}

type Shelf = ReturnType<typeof workOutJars>

function shelfOf(ground: DemandGround, jars: readonly CultureRow[], today: PlainDate): Shelf {
  const zones = [...ground.ground.zones].map(([id, { setPoints }]) => ({ id, setPoints: [...setPoints] }))
  const countedOn = lastCountByLine(ground.foodRoom)
  return workOutJars({ lines: ground.allLines, zones, jars, days: PAGE_WEEKS * 7, countedOn }, today)
}

function cutOffsOf({ foodRoom, lines }: DemandGround, today: PlainDate): CutOff[] {
  const daysOf = (side: 'room' | 'supplier') =>
    foodRoom.closedDays.filter((day) => day.side === side).map(({ on }) => on)
  return listCutOffs(lines, { supplier: daysOf('supplier'), room: daysOf('room') }, today)
}

/** What the plan still asks for from today on, as it will arrive. */
function plannedOf(
  { planned, orders }: DemandGround['foodRoom'],
  { jars, today, lines }: { jars: readonly CultureRow[]; today: PlainDate; lines: DemandGround['lines'] },
): SupplyGround['planned'] {
  if (!planned?.weeks) return []
  const { madeOn, weeks } = planned
  const started = jars.filter(({ startedOn }) => startedOn >= madeOn)
  const starts = leftOver(
    weeks.flatMap((week) => week.starts),
    started.map(({ line, startedOn }) => ({ line, on: startedOn, count: 1 })),
  )
  const packs = leftOver(
    weeks.flatMap(({ purchases }) =>
      purchases.map(({ line, packs: count, arrivesOn }) => ({ line, count, on: arrivesOn })),
    ),
    orders
      .filter(({ orderedOn }) => orderedOn >= madeOn)
      .map(({ line, packs: count, dueOn }) => ({ line, count, on: dueOn })),
  )
  const sizeOf = (id: string) => {
    const supply = lines.find((line) => line.id === id)?.supply
    return supply && supply.kind !== 'culture' ? supply.packSize.value : 0
  }
  return [...starts, ...packs.map((pack) => ({ ...pack, count: pack.count * sizeOf(pack.line) }))].filter(
    ({ on }) => on >= today,
  )
}

function supplyGround(
  { lines, foodRoom }: DemandGround,
  shelf: Shelf,
  { jars, today }: { jars: readonly CultureRow[]; today: PlainDate },
): SupplyGround {
  const roomOf = (line: string) => mainRoomOf(line, { jars, temperatureC: shelf.temperatureC }, shelf.learned)
  const usual = new Map(
    lines.flatMap(({ id, supply }) =>
      supply.kind === 'culture' ? [[id, supply.yield.value.mean] as const] : [],
    ),
  )
  return {
    today,
    weeks: PAGE_WEEKS,
    lines,
    stock: stockByLine(foodRoom, lines, today),
    jars: shelf.standing.map(({ jar, outlook }) => ({
      line: jar.line,
      ahead: outlook.ahead.map((flies, day) => (day === 0 ? flies + outlook.uncounted.mean : flies)),
      isSuspect: outlook.suspicion !== null,
    })),
    orders: foodRoom.orders
      .map(({ line, dueOn, arrivedOn, packs, packSize }) => ({
        line,
        on: arrivedOn ?? maxDate(dueOn, today),
        count: packs * packSize,
      }))
      .filter(
        ({ line, on }) =>
          on >= today || lines.some(({ id, supply }) => id === line && supply.kind === 'pupae'),
      ),
    planned: plannedOf(foodRoom, { jars, today, lines }),
    temperatureOf: (line) => roomOf(line).temperatureC,
    meanOf: (line) => roomOf(line).learned?.mean ?? usual.get(line) ?? 0,
  }
}
