import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'
import { forecastSeparation, sharesByDay } from '@/lib/domain/separation/deadline'
import type { SeparationInput } from '@/lib/domain/separation/input'
import { clutchHazard } from '@/lib/domain/separation/plan-clutch'
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
  /** No size gaps, no own losses: what is left to choose by is species, warmth and age. */
  isAlike?: boolean
}

const TODAY = '2026-11-25'
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

const SPECIES = DEFAULT_PROFILES.map(({ profile }) => profile)
/** Clutches older than this have been parted before the story begins. */
const OLDEST_DAYS = 24

function seedClutch(stream: SeededStream, setting: ClutchSetting) {
  const { number, shape, dates } = setting
  const profile = stream.pick(SPECIES)
  const age = stream.integer(0, OLDEST_DAYS)
  const { min, typical, max } = profile.hatch.nymphs.value
  const together = Math.round(Math.min(max, Math.max(min, stream.lognormal(Math.log(typical), 0.4))))
  const input: SeparationInput = {
    profile,
    hatchedOn: addDays(TODAY, -age),
    together,
    today: TODAY,
    history: [{ from: addDays(TODAY, -60), until: null, dayC: stream.integer(22, 28) }],
    signs: { hasSizeGap: stream.chance(0.12) && !shape.isAlike },
    lossScale: shape.isAlike ? 1 : stream.lognormal(0, 0.5),
    ...(shape.isCrowding ? { volumeMl: 1000 * stream.lognormal(Math.log(6), 0.5) } : {}),
  }
  const { dueOn } = forecastSeparation(input)
  const clutch: PlanClutch = {
    id: `clutch-${number}`,
    label: `Clutch ${number}`,
    together,
    hazard: clutchHazard(input, shape.days + TAIL_DAYS),
    blocked: hangingDays(input, dates),
    safeFrom: addDays(TODAY, Math.max(0, 4 - age)),
    apartBy: dueOn,
    containerKinds: stream.pick([['small'], ['small', 'middle'], ['middle', 'small']]),
  }
  return { clutch, hatchedOn: input.hatchedOn }
}

/** The days on which more than a fifth of the siblings moult: they hang or are soft. */
function hangingDays(input: SeparationInput, dates: PlainDate[]): PlainDate[] {
  const shares = sharesByDay(input)
  const meanMoults = (on: PlainDate) => shares(on).reduce((sum, share, moults) => sum + share * moults, 0)
  return dates.filter((on) => meanMoults(addDays(on, 1)) - meanMoults(on) > 0.2)
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
