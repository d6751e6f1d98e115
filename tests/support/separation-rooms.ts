import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'
import type { ClutchHazard } from '@/lib/domain/separation/plan-hazard'
import {
  type PlanClutch,
  type PlanContainerKind,
  SEPARATION_LABOUR,
  type SeparationRoom,
  TAIL_DAYS,
} from '@/lib/domain/separation/plan-room'

/** A seeded room: clutches of several species and ages, evenings of a working week, cups that run short. */
export type SeededRoom = { room: SeparationRoom; hatchedOn: PlainDate[] }

export type RoomShape = {
  clutches: number
  days: number
  /** Minutes there are / minutes that parting everyone would take. */
  capacity: number
  isCrowding: boolean
}

const TODAY = '2026-11-25'
/** Fed, equal siblings, by moults made; the defaults of the care profiles. */
const RISK_BY_INSTAR = [0.001, 0.005, 0.02, 0.06]
const WEEK_SHAPE = [1, 0.6, 1, 0.8, 1.2, 2.5, 2]
/** An evening's batch that a set-up is reckoned for when the work is added up. */
const BATCH = 40

export function seedRoom(seed: string, shape: RoomShape): SeededRoom {
  const stream = seededStream(seed)
  const dates = Array.from({ length: shape.days }, (_, day) => addDays(TODAY, day))
  const made = Array.from({ length: shape.clutches }, (_, number) =>
    seedClutch(stream.fork(`clutch ${number}`), { number, shape, dates }),
  )
  const clutches = made.map(({ clutch }) => clutch)
  const animals = clutches.reduce((sum, { together }) => sum + together, 0)
  const room: SeparationRoom = {
    days: seedEvenings(stream.fork('evenings'), dates, shape.capacity * minutesOfAll(clutches, shape.days)),
    clutches,
    containerKinds: seedCups(stream.fork('cups'), dates, animals),
    labour: SEPARATION_LABOUR,
    tailDays: TAIL_DAYS,
  }
  return { room, hatchedOn: made.map(({ hatchedOn }) => hatchedOn) }
}

/** Parting all, with a set-up for every forty, and feeding each cup for half of the days on average. */
export function minutesOfAll(clutches: PlanClutch[], days: number): number {
  const { secondsPerNymph, minutesPerClutchEvening, secondsPerCupFeeding, daysBetweenFeedings } =
    SEPARATION_LABOUR
  const feedings = days / 2 / daysBetweenFeedings
  return clutches.reduce(
    (sum, { together }) =>
      sum +
      (together * (secondsPerNymph + feedings * secondsPerCupFeeding)) / 60 +
      Math.ceil(together / BATCH) * minutesPerClutchEvening,
    0,
  )
}

type ClutchSetting = { number: number; shape: RoomShape; dates: PlainDate[] }

function seedClutch(stream: SeededStream, setting: ClutchSetting) {
  const { number, shape, dates } = setting
  const age = stream.integer(0, 30)
  const instarDays = stream.lognormal(Math.log(10), 0.2)
  const spread = 0.15
  const together = Math.round(Math.min(220, Math.max(15, stream.lognormal(Math.log(70), 0.5))))
  const temper = stream.pick([0.2, 1, 1, 1, 3])
  const moultDays = [1, 2, 3, 4].map((moult) => moult * instarDays)
  const baseRisk = Array.from({ length: shape.days + TAIL_DAYS }, (_, day) => {
    const shares = [0, 1, 2, 3].map((moults) => shareAt(age + day, { moults, instarDays, spread }))
    return temper * shares.reduce((sum, share, moults) => sum + share * RISK_BY_INSTAR[moults]!, 0)
  })
  const atEase = together * stream.lognormal(Math.log(0.5), 0.3)
  const hazard: ClutchHazard = {
    baseRisk,
    ...(shape.isCrowding ? { crowdingPerAnimal: baseRisk.map((_, day) => (1 + day / 40) / atEase) } : {}),
  }
  const clutch: PlanClutch = {
    id: `clutch-${number}`,
    label: `Clutch ${number}`,
    together,
    hazard,
    // While most of them hang or are soft.
    blocked: dates.filter((_, day) => moultDays.some((moult) => Math.abs(age + day - moult) < 0.75)),
    safeFrom: addDays(TODAY, Math.max(0, 5 - age)),
    apartBy: addDays(TODAY, Math.max(0, Math.round(moultDays[1]! - age))),
    containerKinds: stream.pick([['small'], ['small', 'middle'], ['middle', 'small']]),
  }
  return { clutch, hatchedOn: addDays(TODAY, -age) }
}

/** Siblings spread lognormally around their moults; the last instar takes all that are further. */
function shareAt(age: number, instar: { moults: number; instarDays: number; spread: number }): number {
  const past = (moults: number) => {
    if (moults === 0) return 1
    const z = (Math.log(Math.max(age, 0.01)) - Math.log(moults * instar.instarDays)) / instar.spread
    return 1 / (1 + Math.exp(-1.702 * z))
  }
  return past(instar.moults) - (instar.moults === 3 ? 0 : past(instar.moults + 1))
}

/** Evenings of a week with one or two free ones, together as many minutes as there are. */
function seedEvenings(stream: SeededStream, dates: PlainDate[], total: number): SeparationRoom['days'] {
  const free = stream.integer(0, 4)
  const shares = dates.map((_, day) =>
    day % 7 === free ? 0 : WEEK_SHAPE[day % 7]! * stream.lognormal(0, 0.2),
  )
  const sum = shares.reduce((all, share) => all + share, 0)
  return dates.map((on, day) => ({ on, minutes: Math.round((total * shares[day]!) / sum) }))
}

function seedCups(stream: SeededStream, dates: PlainDate[], animals: number): PlanContainerKind[] {
  const small = Math.round(animals * (0.35 + 0.2 * stream.uniform()))
  const middle = Math.round(animals * (0.1 + 0.1 * stream.uniform()))
  const arrives = dates[Math.min(dates.length - 1, stream.integer(5, 14))]!
  const grows = dates[Math.min(dates.length - 1, stream.integer(3, 20))]!
  return [
    {
      id: 'small',
      label: 'small cup',
      free: small,
      ordered: [{ on: arrives, count: Math.round(animals * 0.25) }],
      neededByGrowing: [],
    },
    {
      id: 'middle',
      label: 'middle cup',
      free: middle,
      ordered: [],
      neededByGrowing: [{ on: grows, count: Math.round(middle * 0.3) }],
    },
  ]
}
