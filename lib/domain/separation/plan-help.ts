import type { PlainDate } from '../calendar/date'
import { totalLoss } from './plan-ledger'
import { countRoom, type SeparationRoom } from './plan-room'
import { replayPlan } from './plan-rounding'
import { type FoundPlan, type Solving, searchPlan } from './plan-search'

/** What would save animals: an hour more on an evening, or a box of cups by a day. */
export type PlanHelp =
  | { kind: 'hour'; on: PlainDate; minutes: number; saves: number }
  | { kind: 'containers'; containerKind: string; count: number; by: PlainDate; saves: number }

type Wish = { help: PlanHelp; promised: number; room: SeparationRoom }

const MINUTES_OF_HELP = 60
const CUPS_OF_HELP = 20
/** Below this it is not worth a line. */
const LEAST_SAVED = 0.1

/**
 * The duals only choose what is tried, since they promise up to twelve times too much; what a help saves is
 * the difference to a plan made anew with it. Most helpful first.
 */
export function* planHelps(
  room: SeparationRoom,
  found: FoundPlan,
  options: HelpOptions,
): Solving<PlanHelp[]> {
  const helps: PlanHelp[] = []
  const before = totalLoss(found.ledger)
  for (const wish of listWishes(room, found).slice(0, options.tried)) {
    const counted = countRoom(wish.room)
    const start = replayPlan(counted, found.ledger)
    const trial = yield* searchPlan(counted, { rounds: options.rounds, start })
    const saves = before - totalLoss(trial.ledger)
    if (saves >= LEAST_SAVED) helps.push({ ...wish.help, saves })
    if (!trial.isComplete) break
  }
  return withoutTwins(helps).sort((one, other) => other.saves - one.saves)
}

export type HelpOptions = { rounds: number; tried: number }

function listWishes(room: SeparationRoom, found: FoundPlan): Wish[] {
  const hours = room.days.map(({ on }, day): Wish => {
    const help: PlanHelp = { kind: 'hour', on, minutes: MINUTES_OF_HELP, saves: 0 }
    return {
      help,
      promised: found.worthOfMinute[day]! * MINUTES_OF_HELP,
      room: withMinutes(room, day, MINUTES_OF_HELP),
    }
  })
  const boxes = room.containerKinds.flatMap((_, place) => listBoxes(room, place, found.worthOfCup[place]!))
  return [...hours, ...boxes]
    .filter(({ promised }) => promised >= LEAST_SAVED)
    .sort((one, other) => other.promised - one.promised)
}

/** A box today, and by the latest day on which by the duals it is still worth nearly as much. */
function listBoxes(room: SeparationRoom, place: number, worth: number[]): Wish[] {
  const kind = room.containerKinds[place]!
  const latest = Math.max(
    0,
    worth.findLastIndex((each) => each > 0.95 * (worth[0] ?? 0)),
  )
  return [...new Set([0, latest])].map((day) => {
    const by = room.days[day]?.on ?? ''
    const help: PlanHelp = { kind: 'containers', containerKind: kind.id, count: CUPS_OF_HELP, by, saves: 0 }
    return { help, promised: (worth[day] ?? 0) * CUPS_OF_HELP, room: withCups(room, place, by) }
  })
}

/** Of one box on two days the later one, unless waiting for it costs more than a twentieth of what it saves. */
function withoutTwins(helps: readonly PlanHelp[]): PlanHelp[] {
  return helps.filter((help) => {
    if (help.kind === 'hour') return true
    const twin = helps.find(
      (other) => other !== help && other.kind === 'containers' && other.containerKind === help.containerKind,
    )
    if (twin?.kind !== 'containers') return true
    return help.by > twin.by ? help.saves >= 0.95 * twin.saves : twin.saves < 0.95 * help.saves
  })
}

function withMinutes(room: SeparationRoom, day: number, minutes: number): SeparationRoom {
  const days = room.days.map((each, place) =>
    place === day ? { ...each, minutes: each.minutes + minutes } : each,
  )
  return { ...room, days }
}

function withCups(room: SeparationRoom, place: number, by: PlainDate): SeparationRoom {
  const containerKinds = room.containerKinds.map((kind, each) =>
    each === place ? { ...kind, ordered: [...kind.ordered, { on: by, count: CUPS_OF_HELP }] } : kind,
  )
  return { ...room, containerKinds }
}
