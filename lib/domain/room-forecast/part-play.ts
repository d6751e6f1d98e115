import { type DevelopmentCourse, openCourses, type SexKnown } from '../development/instar-length'
import { type DevelopmentParameters, FUTURE_TEMPERATURE_SD_C, PRIOR_LOG_SD } from '../development/parameters'
import {
  type Beginning,
  type Occupancy,
  playBeginnings,
  playEntering,
  type StageLength,
  standingAfter,
} from './course-play'
import { clutchParameters } from './grouping'
import { GUESSES } from './guess'
import type { PartBeginning, RoomPart } from './part'
import { adultStage, courseStages } from './stage-lengths'

/** Nymphs by moults, then the adults. */
export const STAGES = 14
export const ADULT = STAGES - 1
/** After the stages all of them together: their spread is not the sum of the stages', which trade animals. */
export const ALL = STAGES
export const ROWS = STAGES + 1

/**
 * A part's future: expected living animals by stage and step for each of five equally handled guesses at what
 * moves all of them together (growth of the species and, as far as they are one, of clutches; temperature),
 * and the variance that single animals add on average over the guesses.
 */
export type PlayedPart = { means: Occupancy[]; ownVariance: Occupancy; now: Float64Array }

export type PartGrid = { steps: number; degreesAboveThreshold: number }

/** Three-point Gauss–Hermite rule: how animals and clutches of a part differ for life. */
const MIXING_NODES = [
  { z: -Math.sqrt(3), weight: 1 / 6 },
  { z: 0, weight: 2 / 3 },
  { z: Math.sqrt(3), weight: 1 / 6 },
]
const MOST_GROUP_TRACKS = 6

/** Animals whose fates are alike enough to share one chance to be in a stage. */
type Track = { count: number; beginnings: PartBeginning[]; groups: RoomPart['groups'] }

export function playPart(part: RoomPart, grid: PartGrid): PlayedPart {
  const parameters = clutchParameters(part.species, null)
  const sd = spreads(part, parameters, grid)
  const tracks = tracksOf(part)
  const ownVariance = emptyOccupancy(grid.steps)
  const now = new Float64Array(ROWS)
  const adults = adultStages(part)
  const means = GUESSES.map((guess) => {
    const total = emptyOccupancy(grid.steps)
    const branches = MIXING_NODES.map(({ z, weight }) => {
      const logShift = part.logShift + guess.z * sd.together + z * sd.mixing
      return { weight, courses: playableCourses(part, { parameters, logShift }) }
    })
    for (const track of tracks) {
      const played = playTrack(track, { branches, grid, part, adults, now: guess.z === 0 ? now : null })
      addBinomial(played, { count: track.count, weight: guess.weight, total, ownVariance })
    }
    return total
  })
  now[ALL] = now.reduce((sum, count) => sum + count, 0)
  return { means, ownVariance, now }
}

/** What moves all animals of a part together, and what differs among them but lasts. */
export function spreads(
  part: Pick<RoomPart, 'clutchShare' | 'clutchVariance' | 'speciesVariance' | 'zone'>,
  parameters: DevelopmentParameters,
  grid: PartGrid,
): { together: number; mixing: number } {
  const temperatureSdC = part.zone.futureTemperatureSdC ?? FUTURE_TEMPERATURE_SD_C
  const byTemperature = temperatureSdC / Math.max(3, grid.degreesAboveThreshold)
  const together = part.speciesVariance + part.clutchShare * part.clutchVariance + byTemperature ** 2
  const ofAnimals = parameters.covariance[2]?.[2] ?? PRIOR_LOG_SD.animal ** 2
  const mixing = ofAnimals + (1 - part.clutchShare) * part.clutchVariance
  return { together: Math.sqrt(Math.max(0, together)), mixing: Math.sqrt(mixing) }
}

export type PlayableCourse = { course: DevelopmentCourse; stages: StageLength[] }

/** Every course that any animal of the part can be on. */
export function playableCourses(
  part: Pick<RoomPart, 'species' | 'sex' | 'beginnings' | 'groups'>,
  known: { parameters: DevelopmentParameters; logShift: number },
): PlayableCourse[] {
  const { profile } = part.species
  const found = new Map<string, DevelopmentCourse>()
  const stagesBegun = [
    { moults: 0, hasWingBuds: false },
    ...part.beginnings.filter(({ isAdult }) => !isAdult),
  ]
  for (const { moults, hasWingBuds } of stagesBegun)
    for (const course of openCourses(profile, { sex: part.sex, moults, hasWingBuds }))
      found.set(courseKey(course), course)
  return [...found.values()].map((course) => ({ course, stages: courseStages(profile, course, known) }))
}

function courseKey({ sex, totalMoults }: DevelopmentCourse): string {
  return `${sex} ${totalMoults}`
}

function tracksOf(part: RoomPart): Track[] {
  const byStage = new Map<string, Track>()
  for (const beginning of part.beginnings) {
    const key = beginning.isAdult ? 'adult' : String(beginning.moults)
    const track = byStage.get(key) ?? { count: 0, beginnings: [], groups: [] }
    byStage.set(key, track)
    track.count += beginning.count
    track.beginnings.push(beginning)
  }
  const size = Math.max(1, Math.ceil(part.groups.length / MOST_GROUP_TRACKS))
  const ofGroups: Track[] = []
  for (let first = 0; first < part.groups.length; first += size) {
    const groups = part.groups.slice(first, first + size)
    ofGroups.push({ count: groups.reduce((sum, { count }) => sum + count, 0), beginnings: [], groups })
  }
  return [...byStage.values(), ...ofGroups]
}

/** How long adults of either sex live. */
export type AdultStages = Record<SexKnown, StageLength>

export function adultStages({ species }: Pick<RoomPart, 'species'>): AdultStages {
  return { male: adultStage(species.profile, 'male'), female: adultStage(species.profile, 'female') }
}

type Branch = { weight: number; courses: PlayableCourse[] }

function playTrack(
  track: Track,
  room: {
    branches: Branch[]
    grid: PartGrid
    part: RoomPart
    adults: AdultStages
    now: Float64Array | null
  },
): Occupancy {
  const { branches, grid, part, adults, now } = room
  const played = emptyOccupancy(grid.steps)
  const lists = branches.map(({ courses }) => courses.map(() => [] as Beginning[]))
  for (const beginning of track.beginnings) {
    if (!beginning.isAdult) shareOut(beginning, { branches, lists, part })
    else playAdults(beginning, { part, adults, grid, played })
    if (now) now[beginning.isAdult ? ADULT : beginning.moults]! += beginning.count
  }
  const already: Record<SexKnown, Beginning[]> = { male: [], female: [] }
  for (const group of track.groups) shareOutGroup(group, { branches, lists, adults, already, now })
  for (const sex of ['male', 'female'] as const) {
    const { occupancy } = playBeginnings({ stages: [adults[sex]], steps: grid.steps }, already[sex])
    addInto(played[ADULT]!, occupancy[0]!, 1)
  }
  const grown = { male: new Float64Array(grid.steps), female: new Float64Array(grid.steps) }
  branches.forEach(({ courses }, branch) => {
    courses.forEach(({ course, stages }, index) => {
      const beginnings = lists[branch]![index]!
      if (beginnings.length === 0) return
      const { occupancy, leaving } = playBeginnings({ stages, steps: grid.steps }, beginnings)
      occupancy.forEach((stage, moults) => {
        addInto(played[moults]!, stage, 1)
      })
      addInto(grown[course.sex], leaving, 1)
    })
  })
  playGrown(grown, { adults, steps: grid.steps, played })
  sumStages(played)
  return played
}

/** Fills the row of all stages together. */
export function sumStages(played: Occupancy): void {
  for (let stage = 0; stage < STAGES; stage += 1) addInto(played[ALL]!, played[stage]!, 1)
}

/** Final moults of all courses together: adults live equally long however they got there. */
export function playGrown(
  grown: Record<SexKnown, Float64Array>,
  { adults, steps, played }: { adults: AdultStages; steps: number; played: Occupancy },
): void {
  for (const sex of ['male', 'female'] as const) {
    if (!grown[sex].some((count) => count > 0)) continue
    const { occupancy } = playEntering({ stages: [adults[sex]], steps }, grown[sex])
    addInto(played[ADULT]!, occupancy[0]!, 1)
  }
}

/** Spreads animals of one state over courses and lasting differences, as their wait so far makes likely. */
function shareOut(
  beginning: PartBeginning,
  { branches, lists, part }: { branches: Branch[]; lists: Beginning[][][]; part: RoomPart },
): void {
  const { moults, hasWingBuds, count } = beginning
  const open = openCourses(part.species.profile, { sex: part.sex, moults, hasWingBuds })
  const openWeight = new Map(open.map((course) => [courseKey(course), course.weight]))
  const shares: { list: Beginning[]; spent: number; weight: number }[] = []
  branches.forEach((branch, branchIndex) => {
    branch.courses.forEach(({ course, stages }, index) => {
      const weight = branch.weight * (openWeight.get(courseKey(course)) ?? 0)
      const list = lists[branchIndex]![index]!
      const length = stages[moults]
      if (weight === 0 || !length) return
      for (const spent of beginning.spent === null ? everyOther(length) : [beginning.spent])
        shares.push({ list, spent, weight: weight * Math.max(1e-12, 1 - length.atWhole(spent)) })
    })
  })
  const total = shares.reduce((sum, { weight }) => sum + weight, 0)
  for (const { list, spent, weight } of shares)
    list.push({ stage: moults, spent, count: (count * weight) / total })
}

/** An instar that began at an unknown time may be at any point of its length. */
function everyOther({ last }: StageLength): number[] {
  return Array.from({ length: Math.ceil(last / 2) }, (_, index) => 2 * index)
}

function shareOutGroup(
  group: RoomPart['groups'][number],
  room: {
    branches: Branch[]
    lists: Beginning[][][]
    adults: AdultStages
    already: Record<SexKnown, Beginning[]>
    now: Float64Array | null
  },
): void {
  room.branches.forEach((branch, branchIndex) => {
    branch.courses.forEach(({ course, stages }, index) => {
      const nymphs = room.lists[branchIndex]![index]!
      const all = [...stages, room.adults[course.sex]]
      for (const { stage, spent, count } of standingAfter(all, group.ageEffectiveDays)) {
        const share = count * group.count * branch.weight * course.weight
        const isAdult = stage === stages.length
        if (isAdult) room.already[course.sex].push({ stage: 0, spent, count: share })
        else nymphs.push({ stage, spent, count: share })
        if (room.now) room.now[isAdult ? ADULT : stage]! += share
      }
    })
  })
}

/** Adults stay adult until they die of age. */
function playAdults(
  beginning: PartBeginning,
  room: { part: RoomPart; adults: AdultStages; grid: PartGrid; played: Occupancy },
): void {
  const { part, adults, grid, played } = room
  const sexes = part.sex === 'unsexed' ? (['male', 'female'] as const) : [part.sex]
  for (const sex of sexes) {
    const stage = adults[sex]
    const spans = beginning.spent === null ? everyOther(stage) : [beginning.spent]
    const weights = spans.map((spent) => Math.max(1e-12, 1 - stage.atWhole(spent)))
    const total = weights.reduce((sum, weight) => sum + weight, 0)
    const beginnings = spans.map((spent, index) => ({
      stage: 0,
      spent,
      count: (beginning.count * weights[index]!) / (total * sexes.length),
    }))
    const { occupancy } = playBeginnings({ stages: [stage], steps: grid.steps }, beginnings)
    addInto(played[ADULT]!, occupancy[0]!, 1)
  }
}

export function emptyOccupancy(steps: number): Occupancy {
  return Array.from({ length: ROWS }, () => new Float64Array(steps))
}

export function addInto(total: Float64Array, part: Float64Array, times: number): void {
  for (let step = 0; step < total.length; step += 1) total[step]! += times * part[step]!
}

/** Each animal of a track is in a stage or not: binomial. */
function addBinomial(
  played: Occupancy,
  into: { count: number; weight: number; total: Occupancy; ownVariance: Occupancy },
): void {
  played.forEach((stage, index) => {
    const total = into.total[index]!
    const variance = into.ownVariance[index]!
    for (let step = 0; step < stage.length; step += 1) {
      const mean = stage[step]!
      total[step]! += mean
      variance[step]! += into.weight * Math.max(0, mean * (1 - mean / into.count))
    }
  })
}
