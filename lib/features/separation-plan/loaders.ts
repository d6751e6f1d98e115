import type { PlainDate } from '@/lib/domain/calendar/date'
import { isAllowed } from '@/lib/domain/role/permissions'
import { sayLabour, sayLossScale } from '@/lib/domain/separation/learned-words'
import { planSeparation, type SeparationPlan } from '@/lib/domain/separation/plan'
import type { SeparationRoom } from '@/lib/domain/separation/plan-room'
import { sayHelp } from '@/lib/domain/separation/plan-words'
import { type BenchHoursRow, loadPlanGround, type PlanGround } from '@/lib/features/separation-plan/data'
import type { SeparationPlanAnswer, Sliders } from '@/lib/features/separation-plan/schema'
import { loadPage } from '@/lib/platform/page'
import { solveSteps } from '@/lib/platform/solver'

/** How far ahead the screen plans. */
export const PLAN_DAYS = 28
export const PLAN_LIMIT_MS = 8000
/** With what would help most tried: each of them is another plan. */
export const PLAN_WITH_HELPS = { rounds: 2, helpsTried: 5 }

export type PlanKind = { id: string; name: string; free: number; ordered: number }
export type SeparationPlanPage = {
  today: PlainDate
  mayWrite: boolean
  room: SeparationRoom
  hours: BenchHoursRow
  kinds: PlanKind[]
  species: Record<string, string>
  /** Clutches without a profile or a temperature, and those nobody can be housed from. */
  leftOut: { id: string; label: string }[]
  labourWords: string
  lossWords: string
}

/** The plan's ground for the screen: small enough for the browser to plan by itself while a slider moves. */
export async function loadSeparationPlanPage(slug: string): Promise<SeparationPlanPage> {
  return loadPage({ slug, permission: 'clutch:read' }, async ({ tx, scope, workspace }) => {
    const { today } = workspace
    const collected = await loadPlanGround(tx, workspace, { from: today, days: PLAN_DAYS })
    const { room, hours, kinds, clutches, ground, leftOut, labour, losses } = collected
    return {
      today,
      mayWrite: isAllowed(scope.role, 'clutch:write'),
      room,
      hours,
      kinds: kinds
        .filter(({ single }) => single)
        .map(({ id, name, free, ordered }) => ({
          id,
          name,
          free,
          ordered: ordered.reduce((sum, { count }) => sum + count, 0),
        })),
      species: Object.fromEntries(
        clutches.map(({ id, speciesId }) => [id, ground.species.get(speciesId)?.scientificName ?? '']),
      ),
      leftOut: leftOut.map(({ id, label }) => ({ id, label })),
      labourWords: sayLabour(labour),
      lossWords: sayLossScale(losses.all),
    }
  })
}

export type SettledPlan = SeparationPlan & { helpWords: { what: string; saves: number }[] }

/** The program's answer for hours and containers as the sliders stand; nothing is saved by it. */
export async function loadSettledPlan(slug: string, asked: Sliders | null): Promise<SettledPlan> {
  const collected = await loadPage({ slug, permission: 'clutch:read' }, ({ tx, workspace }) =>
    loadPlanGround(tx, workspace, {
      from: workspace.today,
      days: PLAN_DAYS,
      minutesByWeekday: asked?.minutesByWeekday,
    }),
  )
  const room = withFree(collected.room, asked?.free ?? {})
  const plan = await solveSteps(planSeparation(room, PLAN_WITH_HELPS), { timeLimitMs: PLAN_LIMIT_MS })
  return { ...plan, helpWords: presentHelps(plan, collected) }
}

function withFree(room: SeparationRoom, free: Record<string, number>): SeparationRoom {
  return {
    ...room,
    containerKinds: room.containerKinds.map((kind) => ({ ...kind, free: free[kind.id] ?? kind.free })),
  }
}

function presentHelps(plan: SeparationPlan, { kinds, ground }: Pick<PlanGround, 'kinds' | 'ground'>) {
  const nameOf = (id: string) => kinds.find((kind) => kind.id === id)?.name ?? ''
  return plan.helps.map((help) => ({ what: sayHelp(help, nameOf, ground.today), saves: help.saves }))
}

/** A plan as the API says it. */
export function presentSeparationPlan(
  plan: SeparationPlan,
  collected: Pick<PlanGround, 'kinds' | 'ground'>,
): SeparationPlanAnswer {
  return {
    status: plan.status === 'optimal' ? 'optimal' : 'timed-out',
    expectedLosses: plan.expectedLosses,
    days: plan.days.map(({ on, moves }) => ({ on, moves })),
    missed: plan.missed.map(({ clutch, count, cost }) => ({ clutch, count, cost })),
    helps: presentHelps(plan, collected),
  }
}
