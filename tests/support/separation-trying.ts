import { addDays } from '@/lib/domain/calendar/date'
import { seededStream } from '@/lib/domain/random/seeded'
import { checkPlan } from '@/lib/domain/separation/plan-check'
import { lossOfDay, lossOfDays } from '@/lib/domain/separation/plan-hazard'
import { SEPARATION_LABOUR, type SeparationRoom } from '@/lib/domain/separation/plan-room'
import { planClutch, planRoom, TODAY } from '../cases/separation-room'

/** Two clutches, three evenings, few animals: every plan can be tried. */
export function tinyRoom(number: number): SeparationRoom {
  const stream = seededStream(`tiny ${number}`)
  const together = [stream.integer(2, 6), stream.integer(2, 6)]
  return planRoom({
    days: [0, 1, 2].map((day) => ({ on: addDays(TODAY, day), minutes: stream.pick([0, 6, 9, 12]) })),
    clutches: together.map((count, place) =>
      planClutch({
        id: `tiny ${place}`,
        together: count,
        hazard: {
          baseRisk: [1, 2, 3].map(() => 0.2 * stream.uniform()),
          ...(number % 2 === 1 ? { crowdingPerAnimal: [1 / stream.integer(2, 4)] } : {}),
        },
      }),
    ),
    containerKinds: [
      { id: 'cup', label: 'cup', free: stream.integer(3, 9), ordered: [], neededByGrowing: [] },
    ],
    labour: { ...SEPARATION_LABOUR, secondsPerNymph: 60, minutesPerClutchEvening: 3 },
    tailDays: 3,
  })
}

/** The least loss of all plans, by trying them; knows the recursion of losses and the validator only. */
export function bestByTrying(room: SeparationRoom): number {
  let best = Number.POSITIVE_INFINITY
  const evenings = room.days.length
  const visit = (moves: number[][]): void => {
    const place = moves.length
    if (place === room.clutches.length) {
      const days = room.days.map(({ on }, day) => ({
        on,
        minutes: 0,
        moves: moves.flatMap((counts, number) =>
          counts[day]! > 0
            ? [{ clutch: room.clutches[number]!.id, count: counts[day]!, containerKind: 'cup' }]
            : [],
        ),
      }))
      if (checkPlan(room, { days }).length > 0) return
      const loss = moves.reduce((sum, counts, number) => sum + lossOf(room, number, counts), 0)
      best = Math.min(best, loss)
      return
    }
    for (const counts of waysToPart(room.clutches[place]!.together, evenings)) visit([...moves, counts])
  }
  visit([])
  return best
}

function lossOf(room: SeparationRoom, number: number, counts: number[]): number {
  const { hazard, together } = room.clutches[number]!
  let present = together
  let lost = 0
  counts.forEach((count, day) => {
    if (count > present + 1e-9) lost = Number.POSITIVE_INFINITY
    const loss = lossOfDay(hazard, day, present - count)
    lost += loss
    present -= count + loss
  })
  return lost + lossOfDays(hazard, { from: counts.length, days: room.tailDays }, present).loss
}

function waysToPart(most: number, evenings: number): number[][] {
  if (evenings === 0) return [[]]
  return Array.from({ length: most + 1 }, (_, count) =>
    waysToPart(most - count, evenings - 1).map((rest) => [count, ...rest]),
  ).flat()
}
