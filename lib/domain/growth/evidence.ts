import { addDays, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { TemperatureHistory } from '../development/clock'
import type { DevelopmentRecord, RecordedStart } from '../development/record'
import { hasWingBuds } from '../individual/growth-sign'
import {
  type GrowthRecord,
  latestHatchOn,
  moultsOf,
  type RecordedMoult,
  recordAsOf,
} from '../individual/record'
import { type ClutchSighting, sightingsAsOf } from '../separation/sighting'
import { historyOfZoneStays, type Stay, staysAsOf, type ZonesById } from '../zone/history'

/**
 * From the records as they are kept to what the learning wants. A completed instar is one between two starts, a
 * running one lasts until somebody last looked, and what nobody saw is left out rather than guessed.
 */
export type KeptAnimal = Omit<GrowthRecord, 'moults'> & {
  id: string
  /** `isConfirmed`: somebody said that its date is right although it looks wrong. */
  moults: readonly (RecordedMoult & { isConfirmed: boolean })[]
  clutchId: string | null
  sex: Sex
  stays: readonly Stay[]
  /** The last look or feeding, by the day asked about. */
  lastSeenOn: PlainDate | null
  /** The day it was sold, died, … by its records; null while it is here. */
  leftOn: PlainDate | null
  /** It died in a moult: then that instar had ended. */
  diedMoulting: boolean
  /** It left by dying, of whatever cause. */
  hasDied?: boolean
}

export type KeptClutch = {
  id: string
  hatchedOn: PlainDate
  /** Last day of a hatch over several days. */
  hatchedUntilOn: PlainDate
  together: number
  stays: readonly Stay[]
  sightings: readonly ClutchSighting[]
}

export type KeptRecords = { animals: readonly KeptAnimal[]; clutches: readonly KeptClutch[] }

/** Everything on record by the day, in no particular order. O(animals + clutches). */
export function developmentRecords(
  kept: KeptRecords,
  known: { zones: ZonesById; asOf: PlainDate },
): DevelopmentRecord[] {
  const histories = new SharedHistories(known.zones)
  const clutches = new Map(kept.clutches.map((clutch) => [clutch.id, clutch]))
  const ofAnimals = kept.animals.flatMap((animal) => {
    const clutch = animal.clutchId === null ? undefined : clutches.get(animal.clutchId)
    return animalRecord(animal, { ...known, clutch, histories })
  })
  const ofGroups = kept.clutches.flatMap((clutch) => groupRecord(clutch, { ...known, histories }))
  return [...ofAnimals, ...ofGroups]
}

/** Animals that stood in the same places share one history, and the learning counts its days once. */
class SharedHistories {
  private readonly known = new Map<string, TemperatureHistory>()

  constructor(private readonly zones: ZonesById) {}

  of(stays: readonly Stay[]): TemperatureHistory {
    const joined = joinStays(stays)
    const key = joined.map(({ zoneId, from, until }) => `${zoneId} ${from} ${until}`).join()
    const before = this.known.get(key)
    if (before) return before
    const made = historyOfZoneStays(joined, this.zones)
    this.known.set(key, made)
    return made
  }
}

/** Moving to another cup on the same shelf changes no temperature. */
function joinStays(stays: readonly Stay[]): Stay[] {
  const joined: Stay[] = []
  for (const stay of stays) {
    const last = joined.at(-1)
    if (last && last.zoneId === stay.zoneId && last.until === stay.from) last.until = stay.until
    else joined.push({ zoneId: stay.zoneId, from: stay.from, until: stay.until })
  }
  return joined
}

/** Where an animal has lived: with its siblings first, then in containers of its own. */
export function livedStays(
  animal: { stays: readonly Stay[]; clutchStays: readonly Stay[] },
  asOf: PlainDate,
): Stay[] {
  const own = staysAsOf(animal.stays, asOf).filter((stay) => stay.until === null || stay.until > stay.from)
  const first = own[0]?.from
  const before = staysAsOf(animal.clutchStays, asOf).filter(
    (stay) => first === undefined || stay.from < first,
  )
  return [...before, ...own]
}

type Ground = { asOf: PlainDate; histories: SharedHistories }

function animalRecord(
  animal: KeptAnimal,
  { asOf, clutch, histories }: Ground & { clutch: KeptClutch | undefined },
): DevelopmentRecord[] {
  if (animal.baselineOn > asOf) return []
  const record = recordAsOf(animal, asOf)
  const isAdult = record.adultSinceOn !== null
  // Somebody else counted the moults of an animal that came here as an adult, if anybody did.
  if (isAdult && !record.moults.some(({ final }) => final)) return []
  const starts = listStarts(record, clutch?.hatchedUntilOn)
  const history = histories.of(livedStays({ stays: animal.stays, clutchStays: clutch?.stays ?? [] }, asOf))
  const { id: animalId, clutchId, sex } = animal
  const runningOn = isAdult ? null : lastSeenRunning(animal, starts, asOf)
  return [{ animalId, clutchId, sex, starts, runningOn, isAdult, history, ...budsOf(record) }]
}

function budsOf(record: GrowthRecord): Pick<DevelopmentRecord, 'hasWingBuds'> {
  return record.adultSinceOn === null && hasWingBuds(record) ? { hasWingBuds: true } : {}
}

/**
 * The last day on which it can have hatched: by when the last of its siblings had, by when it was there itself, and
 * before whatever moult is on record.
 */
function lastHatchDay(record: GrowthRecord, hatchedUntilOn: PlainDate | undefined): PlainDate | null {
  const { hatchedOn, baselineOn, baselineMoults, baselineLastMoultOn, moults } = record
  const last = latestHatchOn({ ...record, hatchedUntilOn: hatchedUntilOn ?? null })
  const moulted = baselineMoults > 0 ? (baselineLastMoultOn ?? baselineOn) : moults[0]?.on
  if (!hatchedOn || !last || moulted === undefined) return last
  return maxDate(hatchedOn, minDate(last, addDays(moulted, -1)))
}

/** When each instar on record began, and between which days. */
export function listStarts(record: GrowthRecord, hatchedUntilOn?: PlainDate): RecordedStart[] {
  const { hatchedOn, baselineOn, baselineMoults, baselineLastMoultOn, moults } = record
  const starts: RecordedStart[] = []
  if (hatchedOn)
    starts.push({
      moults: 0,
      earliestOn: hatchedOn,
      latestOn: lastHatchDay(record, hatchedUntilOn) ?? hatchedOn,
    })
  if (baselineMoults > 0 && baselineLastMoultOn)
    starts.push({ moults: baselineMoults, earliestOn: baselineLastMoultOn, latestOn: baselineLastMoultOn })
  else if (baselineMoults > 0 && hatchedOn && hatchedOn < baselineOn)
    starts.push({ moults: baselineMoults, earliestOn: addDays(hatchedOn, 1), latestOn: baselineOn })
  for (const { number, on, seenFrom, isConfirmed } of moults) {
    const start = { moults: number, earliestOn: minDate(seenFrom ?? on, on), latestOn: on }
    starts.push(isConfirmed ? { ...start, isConfirmed } : start)
  }
  return starts
}

/** Null where nobody has seen it since its last start, or where the running instar is not the one that began then. */
function lastSeenRunning(
  animal: KeptAnimal,
  starts: readonly RecordedStart[],
  asOf: PlainDate,
): PlainDate | null {
  const last = starts.at(-1)
  if (!last || last.moults !== moultsOf(recordAsOf(animal, asOf))) return null
  const { baselineOn, lastSeenOn, leftOn, diedMoulting } = animal
  const left = leftOn && leftOn <= asOf ? (diedMoulting ? addDays(leftOn, -1) : leftOn) : null
  const seen = [baselineOn, lastSeenOn, left].filter((on) => on !== null && on <= asOf)
  const on = seen.reduce<PlainDate | null>((latest, day) => (!latest || day! > latest ? day : latest), null)
  return on !== null && on > last.latestOn ? on : null
}

/**
 * What the words about siblings together say, as one animal that stands for them. Only once nobody is together any
 * more: until then the same words set the pace of the group's own forecast, and would count twice.
 */
function groupRecord(clutch: KeptClutch, { asOf, histories }: Ground): DevelopmentRecord[] {
  if (clutch.together > 1 || clutch.hatchedOn > asOf) return []
  const sightings = sightingsAsOf(clutch.sightings, asOf)
  const { hatchedOn, hatchedUntilOn, stays } = clutch
  const starts: RecordedStart[] = [
    { moults: 0, earliestOn: hatchedOn, latestOn: maxDate(hatchedOn, hatchedUntilOn) },
  ]
  for (;;) {
    const before = starts.at(-1)!
    const number = before.moults + 1
    const all = sightings.find((seen) => seen.number === number && seen.moulted === 'all')
    if (!all || all.on <= before.latestOn) break
    const none = sightings.findLast(
      (seen) => seen.number === number && seen.moulted === 'none' && seen.on < all.on,
    )
    const earliestOn = maxDate(none?.on ?? before.earliestOn, addDays(before.earliestOn, 1))
    starts.push({ moults: number, earliestOn: minDate(earliestOn, all.on), latestOn: all.on })
  }
  const last = starts.at(-1)!
  const still = sightings.findLast((seen) => seen.number === last.moults + 1 && seen.moulted === 'none')
  const runningOn = still && still.on > last.latestOn ? still.on : null
  if (starts.length === 1 && runningOn === null) return []
  const history = histories.of(staysAsOf(stays, asOf))
  const animalId = `siblings ${clutch.id}`
  return [{ animalId, clutchId: clutch.id, sex: 'unsexed', starts, runningOn, isAdult: false, history }]
}
