import { addDays, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { minutesByDay, USUAL_MINUTES } from '@/lib/domain/separation/bench-hours'
import { type LearnedLabour, learnLabour } from '@/lib/domain/separation/labour'
import { collectClutch } from '@/lib/domain/separation/plan-collect'
import { type PlanClutch, type SeparationRoom, TAIL_DAYS } from '@/lib/domain/separation/plan-room'
import { type ClutchRow, listClutches, loadClutchGround, separationInputOf } from '@/lib/features/clutch/data'
import { type ContainerKindRow, listContainerKinds } from '@/lib/features/container/data'
import type { ForecastGround } from '@/lib/features/egg-case/data'
import { changesOf, growingOf, type HousedRow, listHoused } from '@/lib/features/housing/data'
import type { OwnLosses } from '@/lib/features/sibling-loss/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type BenchDayRow = { on: PlainDate; minutes: number; note: string }
export type BenchHoursRow = { minutesByWeekday: number[]; version: number; unusual: BenchDayRow[] }

/** The hours of a usual week and the days unlike it within a span: one statement. Version 0: nobody has said them yet. */
export async function loadBenchHours(
  tx: Tx,
  workspaceId: WorkspaceId,
  span: { from: PlainDate; days: number },
): Promise<BenchHoursRow> {
  const rows = await tx.$queryRaw<{ week: Omit<BenchHoursRow, 'unusual'> | null; unusual: BenchDayRow[] }[]>`
    select
      (select json_build_object('minutesByWeekday', h.minutes_by_weekday, 'version', h.version)
        from bench_hours h where h.workspace_id = ${workspaceId}::uuid) as week,
      (select coalesce(json_agg(json_build_object('on', d."on", 'minutes', d.minutes, 'note', d.note)
          order by d."on"), '[]')
        from bench_day d where d.workspace_id = ${workspaceId}::uuid and d.minutes is not null
          and d."on" >= ${span.from}::date and d."on" < ${addDays(span.from, span.days)}::date) as unusual`
  const { week = null, unusual = [] } = rows[0] ?? {}
  return { ...(week ?? { minutesByWeekday: [...USUAL_MINUTES], version: 0 }), unusual }
}

const RUNS_LEARNED_FROM = 60

/** What the newest finished runs say about how long a nymph takes. */
export async function loadLabour(tx: Tx, workspaceId: WorkspaceId): Promise<LearnedLabour> {
  const runs = await tx.$queryRaw<{ minutes: number; cups: number }[]>`
    with newest as (
      select s.id, extract(epoch from s.finished_at - s.created_at)::float8 / 60 as minutes
      from separation s
      where s.workspace_id = ${workspaceId}::uuid and s.finished_at is not null
      order by s.id desc limit ${RUNS_LEARNED_FROM}
    )
    select n.minutes, count(x.id)::int as cups
    from newest n join head_count_entry x
      on x.workspace_id = ${workspaceId}::uuid and x.separation_id = n.id and x."to" = 'single' and x.reverses is null
    group by n.id, n.minutes`
  return learnLabour(runs)
}

export type PlanQuestion = {
  from: PlainDate
  days: number
  asOf?: PlainDate
  /** Instead of the recorded hours: a week, or named days and no others. */
  minutesByWeekday?: readonly number[]
  minutesPerDay?: readonly { on: PlainDate; minutes: number }[]
  /** Instead of what is recorded, these kinds and no others. */
  containers?: readonly { kind: string; free: number; ordered: readonly { on: PlainDate; count: number }[] }[]
}

export type PlanGround = {
  room: SeparationRoom
  hours: BenchHoursRow
  labour: LearnedLabour
  losses: OwnLosses
  kinds: ContainerKindRow[]
  clutches: ClutchRow[]
  ground: ForecastGround
  /** Together, but with no profile or no temperature to plan by. */
  leftOut: ClutchRow[]
}

const CLUTCH_LIMIT = 500

/** Everything the plan is made from, in a fixed number of statements. @throws AppError not-found for a kind */
export async function loadPlanGround(tx: Tx, workspace: Workspace, asked: PlanQuestion): Promise<PlanGround> {
  const { workspaceId, today } = workspace
  const { from, days } = asked
  refuseFarDays(asked, today)
  // A plan from an earlier day knows what was known then.
  const asOf = asked.asOf ?? (from < today ? from : undefined)
  const animals = asked.containers ? [] : await listHoused(tx, workspaceId)
  const ground = await loadClutchGround(tx, workspace, { asOf, animals })
  const rows = await listClutches(tx, workspaceId, { isTogether: true, limit: CLUTCH_LIMIT, asOf })
  const hours = await loadBenchHours(tx, workspaceId, { from, days })
  const labour = await loadLabour(tx, workspaceId)
  const kinds = await listContainerKinds(tx, workspaceId)
  const span = { from, days, until: addDays(from, days) }
  const containerKinds = asked.containers
    ? askedKinds(kinds, asked.containers)
    : recordedKinds(growingOf(animals, { kinds, ground, workspace }), { kinds, ground, until: span.until })
  const offered = kinds.filter(({ id }) => containerKinds.some((kind) => kind.id === id))
  const collected = rows.map((row) => ({ row, clutch: collect(row, { ground, kinds: offered, span }) }))
  return {
    room: {
      days: askedMinutes(asked, hours),
      clutches: collected.flatMap(({ clutch }) => (clutch ? [clutch] : [])),
      containerKinds,
      labour,
      tailDays: TAIL_DAYS,
    },
    hours,
    labour,
    losses: ground.losses,
    kinds,
    clutches: collected.flatMap(({ row, clutch }) => (clutch ? [row] : [])),
    ground,
    leftOut: collected.flatMap(({ row, clutch }) => (clutch ? [] : [row])),
  }
}

const AHEAD_DAYS = 180

function refuseFarDays({ from, asOf }: PlanQuestion, today: PlainDate): void {
  if (asOf && from < asOf) throw refuseField('from', 'lies before the day that is looked from')
  if (from > addDays(asOf ?? today, AHEAD_DAYS)) throw refuseField('from', 'is more than half a year ahead')
}

type Span = { from: PlainDate; days: number }

function collect(
  row: ClutchRow,
  known: { ground: ForecastGround; kinds: readonly ContainerKindRow[]; span: Span },
): PlanClutch | null {
  const input = separationInputOf(row, known.ground)
  return input && collectClutch({ id: row.id, label: row.label, input }, known)
}

function askedMinutes(
  asked: PlanQuestion,
  { minutesByWeekday, unusual }: BenchHoursRow,
): SeparationRoom['days'] {
  if (asked.minutesPerDay) return minutesByDay([], asked, asked.minutesPerDay)
  return minutesByDay(asked.minutesByWeekday ?? minutesByWeekday, asked, unusual)
}

function askedKinds(
  kinds: readonly ContainerKindRow[],
  asked: NonNullable<PlanQuestion['containers']>,
): SeparationRoom['containerKinds'] {
  return asked.map(({ kind, free, ordered }) => {
    const known = kinds.find(({ id }) => id === kind)
    if (!known) throw refuseUnknown('kind of container')
    return { id: kind, label: known.name, free, ordered: [...ordered], neededByGrowing: [] }
  })
}

/** Free, on order and given free by animals that move up; what those move into is kept back. */
function recordedKinds(
  animals: readonly HousedRow[],
  { kinds, ground, until }: { kinds: ContainerKindRow[]; ground: ForecastGround; until: PlainDate },
): SeparationRoom['containerKinds'] {
  const changes = changesOf(animals, { kinds, ground, until })
  return kinds
    .filter(({ single }) => single)
    .map(({ id, name, free, ordered }) => ({
      id,
      label: name,
      free: Math.max(0, free),
      ordered: [
        ...ordered.map(({ on, count }) => ({ on: maxDate(on, ground.today), count })),
        ...gather(
          changes.filter(({ fromKindId }) => fromKindId === id),
          (count) => Math.floor(count + 1e-9),
        ),
      ],
      neededByGrowing: gather(
        changes.filter(({ toKindId }) => toKindId === id),
        (count) => Math.ceil(count - 1e-9),
      ),
    }))
}

/** By day and in whole containers: sums of chances grow day by day, and a whole one counts when it is full. */
function gather(
  changes: readonly { on: PlainDate; animals: number }[],
  round: (count: number) => number,
): { on: PlainDate; count: number }[] {
  const list: { on: PlainDate; count: number }[] = []
  let sum = 0
  let whole = 0
  for (const { on, animals } of [...changes].sort((one, other) => (one.on < other.on ? -1 : 1))) {
    sum += animals
    const count = round(sum) - whole
    if (count <= 0) continue
    list.push({ on, count })
    whole += count
  }
  return list
}
