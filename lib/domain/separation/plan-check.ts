import type { PlainDate } from '../calendar/date'
import type { PlanDay, PlanMove } from './plan'
import type { PlanContainerKind, SeparationRoom } from './plan-room'

/**
 * Whether a plan can be done, from the constraints alone: it knows neither program nor hazard. Each sentence
 * returned names one that is broken.
 */
export function checkPlan(room: SeparationRoom, plan: { days: PlanDay[] }): string[] {
  const moves = plan.days.flatMap(({ on, moves: list }) => list.map((move) => ({ ...move, on })))
  return [
    ...moves.flatMap((move) => checkMove(room, move)),
    ...room.clutches.flatMap((clutch) => {
      const parted = sum(moves.filter((move) => move.clutch === clutch.id))
      return parted > clutch.together ? [`${clutch.id}: ${parted} of ${clutch.together} parted`] : []
    }),
    ...room.containerKinds.flatMap((kind) => checkCups(room, kind, moves)),
    ...room.days.flatMap((_, day) => checkMinutes(room, moves, day)),
  ]
}

type DatedMove = PlanMove & { on: PlainDate }

function checkMove(room: SeparationRoom, move: DatedMove): string[] {
  const clutch = room.clutches.find(({ id }) => id === move.clutch)
  if (!clutch) return [`no such clutch: ${move.clutch}`]
  const broken: [boolean, string][] = [
    [!Number.isInteger(move.count) || move.count < 1, `${move.count} are not whole animals`],
    [!room.days.some(({ on }) => on === move.on), 'outside the days planned'],
    [clutch.blocked.includes(move.on), 'may not be touched'],
    [clutch.safeFrom !== null && move.on < clutch.safeFrom, 'too young to be touched'],
    [!clutch.containerKinds.includes(move.containerKind), `does not fit ${move.containerKind}`],
  ]
  return broken.filter(([isBroken]) => isBroken).map(([, words]) => `${move.clutch} on ${move.on}: ${words}`)
}

function checkCups(room: SeparationRoom, kind: PlanContainerKind, moves: DatedMove[]): string[] {
  return room.days.flatMap(({ on }) => {
    const upTo = <Dated extends { on: PlainDate; count: number }>(list: Dated[]) =>
      sum(list.filter((entry) => entry.on <= on))
    const filled = upTo(moves.filter((move) => move.containerKind === kind.id))
    const free = kind.free + upTo(kind.ordered) - upTo(kind.neededByGrowing)
    return filled > 0 && filled > free ? [`${on}: ${filled} of ${free} ${kind.id} filled`] : []
  })
}

function checkMinutes(room: SeparationRoom, moves: DatedMove[], day: number): string[] {
  const { on, minutes } = room.days[day]!
  const { secondsPerNymph, minutesPerClutchEvening, secondsPerCupFeeding, daysBetweenFeedings } = room.labour
  const tonight = moves.filter((move) => move.on === on)
  const work =
    (sum(tonight) * secondsPerNymph) / 60 +
    new Set(tonight.map(({ clutch }) => clutch)).size * minutesPerClutchEvening
  const firstOfWeek = day - (day % 7)
  const week = room.days.slice(firstOfWeek, firstOfWeek + 7)
  const minutesOfWeek = week.reduce((total, each) => total + each.minutes, 0)
  const share = minutesOfWeek > 0 ? (week.length * minutes) / minutesOfWeek : 0
  const filledBefore = sum(moves.filter((move) => move.on < on))
  const feeding = (filledBefore * secondsPerCupFeeding * share) / 60 / daysBetweenFeedings
  return work + feeding > minutes + 1e-6 ? [`${on}: ${work + feeding} of ${minutes} minutes`] : []
}

function sum(list: { count: number }[]): number {
  return list.reduce((total, { count }) => total + count, 0)
}
