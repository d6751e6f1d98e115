import type { PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import {
  type DevelopmentClock,
  developmentClock,
  effectiveDays,
  type TemperatureHistory,
  thresholdsOf,
} from '../development/clock'
import { instarStart } from '../individual/instar-start'
import { type GrowthRecord, lastMoultOn, moultsOf } from '../individual/record'
import { historyOfZoneStays, type Stay, type ZonesById } from '../zone/history'
import type { RoomAnimal } from './input'

/** Animals with the same record as far as a forecast can tell: the last moult, and where they have stood since. */
export type AnimalsAlike = GrowthRecord & {
  speciesId: string
  clutchId: string | null
  sex: Sex
  count: number
  hasWingBuds: boolean
  /** Own containers since the instar began, oldest first. */
  stays: readonly Stay[]
}

export type RoomSurroundings = {
  profiles: ReadonlyMap<string, CareProfile>
  zones: ZonesById
  /** Where each clutch stood, oldest first. */
  clutchStays: ReadonlyMap<string, readonly Stay[]>
  today: PlainDate
}

/** Animals of a forecast, and how many nothing can be said of: no profile, or no temperature where they stand. */
export function collectAnimals(
  rows: readonly AnimalsAlike[],
  around: RoomSurroundings,
): { animals: RoomAnimal[]; leftOut: number } {
  const livesOf = lives(around)
  const animals: RoomAnimal[] = []
  let leftOut = 0
  for (const row of rows) {
    const { speciesId, clutchId, sex, hasWingBuds, count } = row
    const profile = around.profiles.get(speciesId)
    const stays = livedStays(row, around)
    const zoneId = stays.at(-1)?.zoneId
    const life = profile && zoneId ? livesOf({ speciesId, profile, stays }) : null
    if (!profile || !zoneId || !life) {
      leftOut += count
      continue
    }
    animals.push({
      speciesId,
      zoneId,
      clutchId,
      sex,
      moults: moultsOf(row),
      isAdult: row.adultSinceOn !== null,
      hasWingBuds,
      spentEffectiveDays: spentOf(row, { profile, life, today: around.today }),
      count,
    })
  }
  return { animals, leftOut }
}

/** Null where nobody saw the last moult and no hatch day says when it was due: then it is at any point of its stage. */
function spentOf(
  row: AnimalsAlike,
  { profile, life, today }: { profile: CareProfile; life: Life; today: PlainDate },
): number | null {
  const isDated = row.hatchedOn !== null && row.adultSinceOn === null
  if (lastMoultOn(row) === null && !isDated) return null
  const start = instarStart(row, { profile, sex: row.sex, history: life.history })
  return Math.max(0, effectiveDays(life.clock, start.on, today))
}

/** Its own containers, and where it stood with its siblings before the first of them. */
function livedStays(row: AnimalsAlike, { clutchStays }: RoomSurroundings): readonly Stay[] {
  const first = row.stays[0]
  const ofClutch = row.clutchId === null ? undefined : clutchStays.get(row.clutchId)
  if (!ofClutch || !first) return row.stays
  return [...ofClutch.filter(({ from }) => from < first.from), ...row.stays]
}

type Life = { history: TemperatureHistory; clock: DevelopmentClock }

/** Most animals have stood in one zone since their instar began, and its clock serves all of them. */
function lives({ zones }: RoomSurroundings) {
  const known = new Map<string, Life | null>()
  return (of: { speciesId: string; profile: CareProfile; stays: readonly Stay[] }): Life | null => {
    const stays = of.stays.map(({ zoneId, from, until }) => `${zoneId} ${from} ${until}`)
    const key = `${of.speciesId} ${stays.join(' ')}`
    const before = known.get(key)
    if (before !== undefined) return before
    const history = historyOfZoneStays(of.stays, zones)
    const life =
      history.length === 0 ? null : { history, clock: developmentClock(history, thresholdsOf(of.profile)) }
    known.set(key, life)
    return life
  }
}
