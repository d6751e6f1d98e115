import { addDays } from '@/lib/domain/calendar/date'
import { type PlanClutch, SEPARATION_LABOUR, type SeparationRoom } from '@/lib/domain/separation/plan-room'

export const TODAY = '2026-11-25'

/** Forty siblings of middling risk that fit a cup. */
export function planClutch(changes: Partial<PlanClutch> = {}): PlanClutch {
  return {
    id: 'first',
    label: 'First',
    together: 40,
    hazard: { baseRisk: [0.02] },
    blocked: [],
    safeFrom: null,
    apartBy: null,
    containerKinds: ['cup'],
    ...changes,
  }
}

/** One such clutch and four evenings, the second without hours. */
export function planRoom(changes: Partial<SeparationRoom> = {}): SeparationRoom {
  return {
    days: [60, 0, 45, 60].map((minutes, day) => ({ on: addDays(TODAY, day), minutes })),
    clutches: [planClutch()],
    containerKinds: [{ id: 'cup', label: 'cup', free: 200, ordered: [], neededByGrowing: [] }],
    labour: SEPARATION_LABOUR,
    tailDays: 7,
    ...changes,
  }
}
