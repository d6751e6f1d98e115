import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'
import { lossOfDays, riskOfDay } from '@/lib/domain/separation/plan-hazard'
import type { PlanLedger } from '@/lib/domain/separation/plan-ledger'
import { feedingMinutesByDay, type PlanClutch, type SeparationRoom } from '@/lib/domain/separation/plan-room'
import type { SeededRoom } from './separation-rooms'

/** What is parted tonight: [clutch][kind], made anew every day from what is really there. */
export type Policy = (seeded: SeededRoom) => Promise<number[][]>

export function tonightOf(ledger: PlanLedger): number[][] {
  return ledger.byKind.map((days) => days[0] ?? [])
}

/**
 * Plays a room day by day with whole animals: each of those left together is lost or not by chance, the same
 * chance for every policy. After the last day the expected loss of the tail is added, as in the plan.
 */
export async function playRoom(seeded: SeededRoom, seed: string, policy: Policy): Promise<number> {
  const { room } = seeded
  const feeding = feedingMinutesByDay(
    room.days.map(({ minutes }) => minutes),
    room.labour,
  )
  const together = room.clutches.map((clutch) => clutch.together)
  const filled = room.containerKinds.map(() => 0)
  let lost = 0
  for (let day = 0; day < room.days.length; day += 1) {
    const tonight = await policy({ ...seeded, room: roomFrom(room, { day, together, filled, feeding }) })
    tonight.forEach((kinds, clutch) => {
      kinds.forEach((count, kind) => {
        together[clutch]! -= count
        filled[kind]! += count
      })
    })
    room.clutches.forEach((clutch, number) => {
      const dead = drawLosses(seededStream(`${seed}/${clutch.id}/${day}`), clutch, {
        day,
        count: together[number]!,
      })
      together[number]! -= dead
      lost += dead
    })
  }
  const tail = { from: room.days.length, days: room.tailDays }
  return room.clutches.reduce(
    (sum, { hazard }, clutch) =>
      together[clutch]! < 2 ? sum : sum + lossOfDays(hazard, tail, together[clutch]!).loss,
    lost,
  )
}

function drawLosses(stream: SeededStream, clutch: PlanClutch, group: { day: number; count: number }): number {
  if (group.count < 2) return 0
  const risk = riskOfDay(clutch.hazard, group.day, group.count)
  let dead = 0
  for (let animal = 0; animal < group.count; animal += 1) if (stream.chance(risk)) dead += 1
  return dead
}

type Progress = { day: number; together: number[]; filled: number[]; feeding: number[] }

/** What a person would plan from on that day. */
function roomFrom(room: SeparationRoom, progress: Progress): SeparationRoom {
  const { day, together, filled, feeding } = progress
  const cups = filled.reduce((sum, count) => sum + count, 0)
  return {
    ...room,
    days: room.days.slice(day).map(({ on, minutes }, later) => ({
      on,
      minutes: Math.max(0, minutes - cups * feeding[day + later]!),
    })),
    clutches: room.clutches.map((clutch, number) => ({
      ...clutch,
      together: together[number]!,
      hazard: {
        ...clutch.hazard,
        baseRisk: clutch.hazard.baseRisk.slice(day),
        crowdingPerAnimal: clutch.hazard.crowdingPerAnimal?.slice(day),
      },
    })),
    containerKinds: room.containerKinds.map((kind, number) => ({
      ...kind,
      free: kind.free - filled[number]!,
    })),
  }
}
