import { addDays, type PlainDate } from '../calendar/date'
import type { ExpectedNymphs } from '../hatch/forecast'
import { type HatchLoad, type HatchPlace, hatchLoad, type WeekLoad, type WeekSpan } from './load'

/** What a room has in a week, and what is spoken for by clutches and egg cases that are here already. */
export type RoomWeekHands = {
  week: PlainDate
  minutes: number
  spokenMinutes: number
  freeCups: number
  spokenCups: number
}

export type HatchQuestion = {
  /** Most likely day. */
  hatchOn: PlainDate
  nymphs: ExpectedNymphs
  place: HatchPlace
  span: WeekSpan
  room: readonly RoomWeekHands[]
}

export type TakenWeek = RoomWeekHands & WeekLoad & { isShortOfHours: boolean; isShortOfCups: boolean }

export type HatchAnswer = {
  verdict: 'all' | 'some' | 'none'
  load: HatchLoad
  /** With the typical number of nymphs. */
  weeks: TakenWeek[]
  /** So many of the typical number can be housed and fed to the end of the span. */
  raise: number
  /** The rest, to be sold or given on as lots before they have to be parted. */
  earlyLots: number
  limit: 'hours' | 'containers' | null
  /** A later day on which more of them could be raised; null where waiting does not help. */
  betterDay: { on: PlainDate; raise: number } | null
}

const MOST_DAYS_LATER = 56
const DAY_STEP = 7
/** A day is only better if it saves so many animals. */
const WORTH_MOVING = 3

/** Can this hatch be taken, and how many of it? O(later days tried × weeks). */
export function answerHatch(question: HatchQuestion): HatchAnswer {
  const { nymphs, hatchOn } = question
  const typical = Math.max(1, Math.round(nymphs.typical))
  const load = hatchLoad({ on: hatchOn, nymphs: typical }, question.place, question.span)
  const weeks = question.room.map((room, index) => takenWeek(room, load.weeks[index]!))
  const found = mostRaised(load, typical, question.room)
  return {
    verdict: found.raise >= typical ? 'all' : found.raise > 0 ? 'some' : 'none',
    load,
    weeks,
    raise: found.raise,
    earlyLots: typical - found.raise,
    limit: found.raise >= typical ? null : found.limit,
    betterDay: found.raise >= typical ? null : betterDay(question, typical, found.raise),
  }
}

function takenWeek(room: RoomWeekHands, week: WeekLoad): TakenWeek {
  const minutes = week.partingMinutes + week.feedingMinutes
  return {
    ...room,
    ...week,
    isShortOfHours: minutes > 0.5 && room.spokenMinutes + minutes > room.minutes + 0.5,
    isShortOfCups: week.cups >= 0.5 && room.spokenCups + week.cups > room.freeCups + 0.5,
  }
}

/**
 * The largest number that every week has hours and cups for. A load is in proportion to the nymphs but for the time
 * each evening takes to set up, which is left out of the proportion.
 */
function mostRaised(
  load: HatchLoad,
  typical: number,
  room: readonly RoomWeekHands[],
): { raise: number; limit: 'hours' | 'containers' } {
  let raise = typical
  let limit: 'hours' | 'containers' = 'hours'
  load.weeks.forEach((week, index) => {
    const hands = room[index]
    if (!hands || week.cups < 0.05) return
    const ask = (share: number, free: number) =>
      Math.floor((typical * Math.max(0, free)) / Math.max(1e-9, share))
    const byHours = ask(week.partingMinutes + week.feedingMinutes, hands.minutes - hands.spokenMinutes)
    const byCups = ask(week.cups, hands.freeCups - hands.spokenCups)
    const least = Math.min(byHours, byCups)
    if (least >= raise) return
    raise = least
    limit = byHours <= byCups ? 'hours' : 'containers'
  })
  return { raise, limit }
}

function betterDay(question: HatchQuestion, typical: number, raise: number): HatchAnswer['betterDay'] {
  let best: HatchAnswer['betterDay'] = null
  for (let later = DAY_STEP; later <= MOST_DAYS_LATER; later += DAY_STEP) {
    const on = addDays(question.hatchOn, later)
    const load = hatchLoad({ on, nymphs: typical }, question.place, question.span)
    const found = mostRaised(load, typical, question.room)
    if (found.raise >= Math.max(raise + WORTH_MOVING, (best?.raise ?? 0) + WORTH_MOVING))
      best = { on, raise: found.raise }
    if (best && best.raise >= typical) break
  }
  return best
}

/** What stands here already asks, by week: clutches to part, and egg cases by the chance that they hatch. */
export function spokenFor(
  loads: readonly { load: HatchLoad; chance: number }[],
  of: { minutesOn: readonly { on: PlainDate; minutes: number }[]; cupsOn: (on: PlainDate) => number },
  span: WeekSpan,
): RoomWeekHands[] {
  return Array.from({ length: span.weeks }, (_, index) => {
    const week = addDays(span.from, 7 * index)
    const until = addDays(week, 7)
    const inWeek = of.minutesOn.filter(({ on }) => on >= week && on < until)
    const sum = (read: (one: WeekLoad) => number) =>
      loads.reduce((total, { load, chance }) => total + chance * read(load.weeks[index]!), 0)
    return {
      week,
      minutes: inWeek.reduce((total, { minutes }) => total + minutes, 0),
      spokenMinutes: sum(({ partingMinutes, feedingMinutes }) => partingMinutes + feedingMinutes),
      freeCups: of.cupsOn(week),
      spokenCups: sum(({ cups }) => cups),
    }
  })
}
