import { addDays, dateOfDay, dayNumber, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { type TemperatureSegment, thresholdsOf } from '@/lib/domain/development/clock'
import { medianInstarDays, type SexKnown } from '@/lib/domain/development/instar-length'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { type SeededStream, seededStream } from '@/lib/domain/random/seeded'

/**
 * A breeder's room played out with parameters that are known to the test and not to the forecast: clutches
 * of 30–150 nymphs in zones whose temperature wanders, each moult noticed the same day or days late, some
 * dates keyed wrong. It lives apart from the learning: nothing here uses its code beyond the profile.
 */
export type RoomPlan = {
  profile: CareProfile
  /** ln of how much slower than the profile this workspace is. */
  speciesLog: number
  clutches: number
  /** Days over which the clutches hatch. */
  seasonDays?: number
  zoneC: number[]
  /** Share of each clutch that is kept in cups with a record; the rest leaves unrecorded. */
  recordedShare?: number
  lateShare?: number
  wrongShare?: number
  siblingLogSd?: number
}

export type RoomTruth = {
  speciesLog: number
  byInstar: number[]
  clutchLog: Record<string, number>
  lowerC: number
}

export type PlayedMoult = {
  moults: number
  at: number
  on: PlainDate
  earliestOn: PlainDate
  noticedOn: PlainDate
  isWrong: boolean
}
export type PlayedAnimal = {
  id: string
  clutchId: string
  zone: number
  sex: SexKnown
  totalMoults: number
  hatchedOn: PlainDate
  diedAt: number
  moults: PlayedMoult[]
}
export type PlayedRoom = {
  plan: RoomPlan
  truth: RoomTruth
  zones: { setC: number; days: TemperatureSegment[] }[]
  animals: PlayedAnimal[]
}

const FIRST_DAY = dayNumber('2026-01-01')
const ROOM_DAYS = 1000
const SEASON_DAYS = 90
/** Readings go back further than the first hatch. */
const DAYS_BEFORE = 120
const NIGHT_DROP_C = 3
const CLUTCH_LOG_SD = 0.12
const ANIMAL_LOG_SD = 0.08
const INSTAR_LOG_SD = 0.08

export function playRoom(plan: RoomPlan, seed: string): PlayedRoom {
  const stream = seededStream(seed)
  const zones = plan.zoneC.map((setC, index) => ({
    setC,
    days: playZone(stream.fork(`zone ${index}`), setC),
  }))
  const prior = thresholdsOf(plan.profile).lowerC
  const shared = stream.fork('shared')
  const truth: RoomTruth = {
    speciesLog: plan.speciesLog,
    byInstar: Array.from({ length: 12 }, () => shared.normal(0, INSTAR_LOG_SD)),
    clutchLog: {},
    lowerC: prior + 4 * shared.uniform() - 2,
  }
  const clocks = zones.map(({ days }) => sumRates(days, plan.profile, truth.lowerC))
  const animals: PlayedAnimal[] = []
  const hatchDays = hatchDaysOf(stream.fork('hatches'), plan)
  for (let index = 0; index < plan.clutches; index += 1) {
    const own = stream.fork(`clutch ${index}`)
    const clutchId = `clutch-${own.integer(100_000, 999_999)}-${index}`
    truth.clutchLog[clutchId] = own.normal(0, CLUTCH_LOG_SD)
    const zone = index % zones.length
    const size = Math.round(own.integer(30, 150) * (plan.recordedShare ?? 1))
    for (let one = 0; one < size; one += 1) {
      const animal = {
        id: `animal-${own.integer(100_000, 999_999)}-${one}`,
        clutchId,
        zone,
        hatchDay: hatchDays[index]!,
      }
      animals.push(playAnimal(own.fork(`animal ${one}`), animal, { plan, truth, sums: clocks[zone]! }))
    }
  }
  return { plan, truth, zones, animals }
}

/** Egg cases hatch when they will: any day of a season is as likely as another. */
function hatchDaysOf(stream: SeededStream, plan: RoomPlan): number[] {
  const seasonDays = plan.seasonDays ?? SEASON_DAYS
  const days = Array.from(
    { length: plan.clutches },
    () => FIRST_DAY + DAYS_BEFORE + stream.integer(0, seasonDays - 1),
  )
  return days.sort((a, b) => a - b)
}

/** Day by day, as a slowly wandering deviation from the set temperature. */
function playZone(stream: SeededStream, setC: number): TemperatureSegment[] {
  const slowSd = 0.8 + stream.uniform() * 1.2
  const keep = Math.exp(-1 / 10)
  let slow = stream.normal(0, slowSd)
  return Array.from({ length: ROOM_DAYS }, (_, index) => {
    slow = keep * slow + stream.normal(0, slowSd * Math.sqrt(1 - keep * keep))
    const dayC = setC + slow + stream.normal(0, 0.4)
    const from = dateOfDay(FIRST_DAY + index)
    return { from, until: addDays(from, 1), dayC, nightC: dayC - NIGHT_DROP_C }
  })
}

/** Effective days since the first day, at the start of each day; the room's own arithmetic. */
function sumRates(days: readonly TemperatureSegment[], profile: CareProfile, lowerC: number): number[] {
  const { referenceC, upperC } = thresholdsOf(profile)
  const perDay = (celsius: number) =>
    Math.max(0, (Math.min(celsius, upperC) - lowerC) / (referenceC - lowerC))
  const sums = [0]
  for (const { dayC, nightC } of days) sums.push(sums.at(-1)! + (perDay(dayC) + perDay(nightC ?? dayC)) / 2)
  return sums
}

function timeAfter(sums: readonly number[], from: number, amount: number): number {
  const begun = Math.floor(from) - FIRST_DAY
  const goal = sums[begun]! + (from - Math.floor(from)) * (sums[begun + 1]! - sums[begun]!) + amount
  let day = begun
  while (day + 2 < sums.length && sums[day + 1]! < goal) day += 1
  return FIRST_DAY + day + (goal - sums[day]!) / Math.max(1e-9, sums[day + 1]! - sums[day]!)
}

function playAnimal(
  stream: SeededStream,
  animal: { id: string; clutchId: string; zone: number; hatchDay: number },
  room: { plan: RoomPlan; truth: RoomTruth; sums: number[] },
): PlayedAnimal {
  const { plan, truth, sums } = room
  const sex: SexKnown = stream.chance(0.5) ? 'male' : 'female'
  const totalMoults = drawTotalMoults(stream, plan.profile, sex)
  const siblings = plan.siblingLogSd ?? 0.15
  const noise = Math.sqrt(siblings ** 2 - ANIMAL_LOG_SD ** 2)
  const own = truth.speciesLog + truth.clutchLog[animal.clutchId]! + stream.normal(0, ANIMAL_LOG_SD)
  let at = animal.hatchDay + stream.uniform()
  const moults: PlayedMoult[] = []
  let diedAt = Number.POSITIVE_INFINITY
  for (let instar = 0; instar < totalMoults; instar += 1) {
    const log = Math.log(medianInstarDays(plan.profile, { sex, totalMoults }, instar))
    const length = Math.exp(log + own + truth.byInstar[instar]! + stream.normal(0, noise))
    const next = timeAfter(sums, at, length)
    if (!stream.chance(survivalOf(plan.profile, instar, totalMoults))) {
      diedAt = at + stream.uniform() * (next - at)
      break
    }
    at = next
    moults.push(noticed(stream, { moults: instar + 1, at }, plan))
  }
  return {
    ...animal,
    sex,
    totalMoults,
    hatchedOn: dateOfDay(animal.hatchDay),
    diedAt,
    moults: keyedWrong(stream, animal.hatchDay, { moults, plan }),
  }
}

function survivalOf(profile: CareProfile, instar: number, totalMoults: number): number {
  const { first, second, third, later, finalMoult } = profile.growth.survival.value
  return instar === totalMoults - 1 ? finalMoult : ([first, second, third][instar] ?? later)
}

function drawTotalMoults(stream: SeededStream, profile: CareProfile, sex: SexKnown): number {
  const { typical, oneFewerShare, oneMoreShare } = profile.growth.moultsToAdult[sex].value
  const draw = stream.uniform()
  return draw < oneFewerShare ? typical - 1 : draw < oneFewerShare + oneMoreShare ? typical + 1 : typical
}

/** Seen the same evening, or within a gap of up to four days without a look. */
function noticed(stream: SeededStream, moult: { moults: number; at: number }, plan: RoomPlan): PlayedMoult {
  const day = Math.floor(moult.at)
  const isLate = stream.chance(plan.lateShare ?? 0.2)
  const lateDays = isLate ? stream.integer(1, 4) : 0
  const earlierDays = isLate ? stream.integer(0, 4 - lateDays) : 0
  return {
    ...moult,
    on: dateOfDay(day + lateDays),
    earliestOn: dateOfDay(day - earlierDays),
    noticedOn: dateOfDay(day + lateDays),
    isWrong: false,
  }
}

/** Some dates are keyed days off; those the form would refuse (before the last moult) are keyed again. */
function keyedWrong(
  stream: SeededStream,
  hatchDay: number,
  { moults, plan }: { moults: PlayedMoult[]; plan: RoomPlan },
): PlayedMoult[] {
  let before = hatchDay
  return moults.map((moult, index) => {
    const right = dayNumber(moult.on)
    const next = moults[index + 1]
    const latest = next ? dayNumber(next.earliestOn) - 1 : right + 20
    let made = moult
    if (stream.chance(plan.wrongShare ?? 0.02)) {
      const off = stream.integer(3, 20) * (stream.chance(0.7) ? -1 : 1)
      const day = Math.min(latest, Math.max(before + 1, right + off))
      const on = dateOfDay(day)
      if (Math.abs(day - right) >= 3) {
        const noticedOn = dateOfDay(Math.max(day, dayNumber(moult.noticedOn)))
        made = { ...moult, on, earliestOn: on, noticedOn, isWrong: true }
      }
    }
    before = dayNumber(made.on)
    return made
  })
}

/** What was known at noon of a day. */
export type KnownDay = { today: PlainDate; histories: TemperatureSegment[][] }

/** The record of an animal as it stood at noon of a day; null while it has not hatched. */
export function recordOn(animal: PlayedAnimal, { today, histories }: KnownDay): DevelopmentRecord | null {
  if (animal.hatchedOn >= today) return null
  const noon = dayNumber(today) + 0.5
  const known = animal.moults.filter(({ noticedOn, at }) => noticedOn <= today && at <= noon)
  const last = known.at(-1)
  const diedOn = Number.isFinite(animal.diedAt) ? dateOfDay(Math.floor(animal.diedAt)) : null
  const lastLook = isUnlooked(animal, today) ? addDays(animal.moults[known.length]!.earliestOn, -1) : today
  const isAdult = last?.moults === animal.totalMoults
  const runningOn = diedOn !== null && diedOn < lastLook ? diedOn : lastLook
  const start = last?.on ?? animal.hatchedOn
  return {
    animalId: animal.id,
    clutchId: animal.clutchId,
    sex: known.length >= 5 ? animal.sex : 'unsexed',
    starts: [
      { moults: 0, earliestOn: animal.hatchedOn, latestOn: animal.hatchedOn },
      ...known.map(({ moults, earliestOn, on }) => ({ moults, earliestOn, latestOn: on })),
    ],
    runningOn: isAdult ? null : maxDate(runningOn, start),
    isAdult,
    history: histories[animal.zone]!,
  }
}

/** Is the day inside the gap without a look in which the next moult will be noticed late? */
export function isUnlooked(animal: PlayedAnimal, today: PlainDate): boolean {
  const noon = dayNumber(today) + 0.5
  const next = animal.moults.find(({ noticedOn, at }) => !(noticedOn <= today && at <= noon))
  return next !== undefined && next.earliestOn < today && (next.at <= noon || next.earliestOn < next.on)
}

/** Temperatures as known on a day: measured so far, and the set temperature from there on. */
export function historiesOn(room: PlayedRoom, today: PlainDate): TemperatureSegment[][] {
  return room.zones.map(({ days, setC }) => {
    const past = days.filter(({ from }) => from <= today)
    return [...past, { from: addDays(today, 1), until: null, dayC: setC, nightC: setC - NIGHT_DROP_C }]
  })
}

/** The evening by which so many moults were on record; null when the room never gets there. */
export function dayOfMoult(room: PlayedRoom, count: number): PlainDate | null {
  const days = room.animals.flatMap(({ moults }) => moults.map(({ noticedOn }) => noticedOn)).sort()
  return days[count - 1] ?? null
}
