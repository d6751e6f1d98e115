import { dayNumber, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { type DevelopmentInput, forecastNextMoult, nextMoultChance } from '@/lib/domain/development/forecast'
import type { DevelopmentParameters } from '@/lib/domain/development/parameters'
import type { PossibleStart } from '@/lib/domain/development/possible-start'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { isUnlooked, type PlayedAnimal } from './simulated-room'

/** One forecast held against what came. Days are counted from noon of the day it was made. */
export type Judged = {
  errorDays: number
  crps: number
  /** Randomised PIT of the calendar date. */
  pit: number
  isInWindow: boolean
}

export type Question = {
  animal: PlayedAnimal
  record: DevelopmentRecord
  today: PlainDate
  /** When the next moult really came. */
  cameAt: number
  /** Same for all that answer the question. */
  chance: number
}

/** An animal that can be asked about: alive, running, looked at today, and it will moult. */
export function questionOf(
  animal: PlayedAnimal,
  record: DevelopmentRecord,
  now: { today: PlainDate; chance: number },
): Question | null {
  const noon = dayNumber(now.today) + 0.5
  if (record.isAdult || animal.diedAt <= noon || isUnlooked(animal, now.today)) return null
  const next = animal.moults.find(({ at }) => at > noon)
  if (!next || next.moults !== (record.starts.at(-1)?.moults ?? 0) + 1) return null
  return { animal, record, today: now.today, cameAt: next.at, chance: now.chance }
}

export type Answer = {
  profile: CareProfile
  parameters?: DevelopmentParameters
  starts: readonly PossibleStart[]
  temperatureSdC: number
}

export function judge(question: Question, answer: Answer): Judged {
  const { record, today, cameAt } = question
  const last = record.starts.at(-1)!
  const input: DevelopmentInput = {
    profile: answer.profile,
    sex: record.sex,
    moults: last.moults,
    instarStartedOn: last.latestOn,
    possibleStarts: answer.starts,
    history: record.history,
    today,
    parameters: answer.parameters,
    futureTemperatureSdC: answer.temperatureSdC,
  }
  const chanceBy = nextMoultChance(input)
  const waited = cameAt - dayNumber(today) - 0.5
  const median = quantile(chanceBy, 0.5)
  const endOfDay = Math.floor(cameAt) - dayNumber(today) + 0.5
  const before = chanceBy(endOfDay - 1)
  const forecast = forecastNextMoult(input)
  const cameOn = Math.floor(cameAt)
  const isInWindow =
    forecast.status === 'forecast' && dayNumber(forecast.p10) <= cameOn && cameOn <= dayNumber(forecast.p90)
  return {
    errorDays: Math.abs(median - waited),
    crps: crpsOf(chanceBy, waited),
    pit: before + question.chance * (chanceBy(endOfDay) - before),
    isInWindow,
  }
}

function quantile(chanceBy: (days: number) => number, probability: number): number {
  let [low, high] = [0, 200]
  for (let round = 0; round < 24; round += 1) {
    const middle = (low + high) / 2
    if (chanceBy(middle) < probability) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** Continuous ranked probability score in days, by midpoints of half days. */
function crpsOf(chanceBy: (days: number) => number, waited: number): number {
  const step = 0.5
  let sum = 0
  for (let at = step / 2; at < 120; at += step) {
    const chance = chanceBy(at)
    const happened = at >= waited ? 1 : 0
    sum += step * (chance - happened) ** 2
    if (happened && chance > 0.9995) break
  }
  return sum
}

/** Sums over many judged forecasts. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length)
}
