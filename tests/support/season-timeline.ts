import { dailySurvival, SEASON, SEASON_DAYS, type Season, type SeasonHatch, sharesAt } from './season-room'

/** The animals of a season, which no policy changes: followed once, however many are played on it. */
export type Clutch = { hatch: SeasonHatch; age: number; count: number }
export type Timeline = {
  /** Animals to be fed, by day and class; beyond the last day as far as a plan looks. */
  need: number[][]
  /** By day: clutches in the room and hatches still to come. */
  clutches: Clutch[][]
  pending: SeasonHatch[][]
}

const FIRST_DAY = -160
const timelines = new WeakMap<Season, Timeline>()

export function followAnimals(season: Season): Timeline {
  const known = timelines.get(season)
  if (known) return known
  const timeline: Timeline = { need: [], clutches: [], pending: [] }
  let clutches: Clutch[] = []
  let pending = [...season.hatches]
  for (let day = FIRST_DAY; day < SEASON_DAYS + SEASON.horizonWeeks * 7; day += 1) {
    if (day >= 0) {
      timeline.need.push(needOf(season, clutches))
      timeline.clutches.push(clutches)
      timeline.pending.push(pending)
    }
    clutches = ageOneDay(season, clutches, day)
    const born = pending.filter(({ hatchedOn }) => hatchedOn !== null && hatchedOn <= day + 1)
    pending = pending.filter((hatch) => !born.includes(hatch))
    clutches.push(...born.map((hatch) => ({ hatch, age: 0, count: hatch.count })))
  }
  timelines.set(season, timeline)
  return timeline
}

function ageOneDay(season: Season, clutches: readonly Clutch[], day: number): Clutch[] {
  const rate = season.saleRate(day)
  return clutches
    .map(({ hatch, age, count }) => ({
      hatch,
      age: age + 1 / hatch.growth,
      count: count * dailySurvival(age, rate, hatch.hazard),
    }))
    .filter(({ count }) => count > 0.2)
}

function needOf(season: Season, clutches: readonly Clutch[]): number[] {
  const need = season.classes.map(() => 0)
  for (const { count, age } of clutches)
    sharesAt(age).forEach((share, index) => {
      need[index]! += count * share
    })
  return need
}
