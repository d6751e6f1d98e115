import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { CareProfile } from '../care-profile/profile'
import { chanceWithin, type MoultForecast } from '../development/forecast'
import { hardeningUntil } from '../development/hardening'
import type { HeadCountState } from '../head-count/head-count'
import { type InstarNaming, instarLabel } from '../instar/label'

/**
 * May this animal leave today? Blocks say "not today" and until when; warnings say what the buyer should
 * know. Both are advice: a hand-over that happened is recorded all the same, as overridden.
 */
export type LeaveCode =
  | 'gone'
  | 'not-single'
  | 'quarantine'
  | 'hardening'
  | 'moult-expected'
  | 'too-young'
  | 'too-young-for-beginner'
  | 'not-eating'
  | 'just-fed'
  | 'chilled'
  | 'moult-overdue'
  | 'zone-incident'
  | 'short-life'
  | 'mated'
  | 'bad-moult'
  | 'lost-limb'
  | 'sibling-in-basket'
  | 'papers'
  | 'papers-abroad'
  | 'reserved'

export type LeaveAdvice = {
  code: LeaveCode
  message: string /** First day it may leave, where known. */
  until?: PlainDate
}

export type LeaveToday = { may: boolean; blocks: LeaveAdvice[]; warnings: LeaveAdvice[] }

export type LeaveInput = {
  profile: CareProfile
  today: PlainDate
  whereabouts: HeadCountState
  moults: number
  isAdult?: boolean
  /** Null when no moult of it was recorded. */
  lastMoultOn: PlainDate | null
  forecast: MoultForecast
  naming: InstarNaming
  /** Unknown buyers get a warning instead of a block. */
  isForBeginner?: boolean
  lastFedOn?: PlainDate | null
  /** Refused its last meals. */
  isNotEating?: boolean
  /** First day after the quarantine of its zone. */
  quarantineUntil?: PlainDate | null
  /** What is said of too much warmth or cold in its zone within the last 48 hours. */
  incident?: string | null
  settings?: { highestMoultChance?: number; moultDays?: number }
}

const HIGHEST_MOULT_CHANCE = 0.1
const MOULT_DAYS = 3

export function checkLeaveToday(input: LeaveInput): LeaveToday {
  const gone = goneBlock(input)
  if (gone) return { may: false, blocks: [gone], warnings: [] }
  const blocks = [quarantineBlock(input), hardeningBlock(input), moultBlock(input), stageBlock(input)]
  const found = blocks.filter((block) => block !== null)
  return { may: found.length === 0, blocks: found, warnings: warningsOf(input) }
}

function goneBlock({ whereabouts }: LeaveInput): LeaveAdvice | null {
  const messages: Readonly<Record<HeadCountState, string | null>> = {
    single: null,
    together: 'It is still among its siblings: put it into a cup of its own first.',
    sold: 'It is already sold.',
    given_away: 'It was given away.',
    dead: 'It is recorded as dead.',
    escaped: 'It is recorded as escaped.',
    unaccounted: 'It is unaccounted for.',
  }
  const message = messages[whereabouts]
  if (message === null) return null
  return { code: whereabouts === 'together' ? 'not-single' : 'gone', message }
}

function quarantineBlock({ quarantineUntil, today }: LeaveInput): LeaveAdvice | null {
  if (!quarantineUntil || quarantineUntil <= today) return null
  const message = `Its zone is in quarantine until ${writeDay(quarantineUntil, today)}.`
  return { code: 'quarantine', message, until: quarantineUntil }
}

function hardeningBlock(input: LeaveInput): LeaveAdvice | null {
  if (input.lastMoultOn === null) return null
  const until = hardeningUntil(input.profile, {
    lastMoultOn: input.lastMoultOn,
    isFinal: input.isAdult === true,
  })
  if (input.today >= until || input.today < input.lastMoultOn) return null
  const day = writeDay(input.lastMoultOn, input.today)
  return {
    code: 'hardening',
    message: `It moulted on ${day} and is still soft. From ${writeDay(until, input.today)} it may be moved.`,
    until,
  }
}

function moultBlock(input: LeaveInput): LeaveAdvice | null {
  if (input.forecast.status !== 'forecast') return null
  const days = input.settings?.moultDays ?? MOULT_DAYS
  const chance = chanceWithin(input.forecast, days)
  if (chance <= (input.settings?.highestMoultChance ?? HIGHEST_MOULT_CHANCE)) return null
  const { p10, p90 } = input.forecast
  const window = `between ${writeDay(p10, input.today)} and ${writeDay(p90, input.today)}`
  const percent = Math.round(chance * 100)
  const message = `It will probably moult ${window} (${percent} % within ${days} days). Wait until two days after the skin is off.`
  return { code: 'moult-expected', message, until: input.forecast.leaveAlone.until }
}

function stageBlock(input: LeaveInput): LeaveAdvice | null {
  if (input.isAdult) return null
  const { saleFromMoults, beginnersFromMoults } = input.profile.handling
  const stage = instarLabel(input.moults, input.naming)
  if (input.isForBeginner && input.moults < beginnersFromMoults.value) return beginnerAdvice(input, stage)
  if (input.moults >= saleFromMoults.value) return null
  const from = instarLabel(saleFromMoults.value, input.naming)
  return { code: 'too-young', message: `It is in the ${stage}; usually sold from the ${from} on.` }
}

function beginnerAdvice(input: LeaveInput, stage: string): LeaveAdvice {
  const from = instarLabel(input.profile.handling.beginnersFromMoults.value, input.naming)
  return {
    code: 'too-young-for-beginner',
    message: `It is in the ${stage}; beginners should start with the ${from} or later.`,
  }
}

function warningsOf(input: LeaveInput): LeaveAdvice[] {
  const warnings: LeaveAdvice[] = []
  const { today, forecast, moults } = input
  const isYoung = !input.isAdult && moults < input.profile.handling.beginnersFromMoults.value
  if (isYoung && input.isForBeginner === undefined)
    warnings.push(beginnerAdvice(input, instarLabel(moults, input.naming)))
  if (input.incident) warnings.push({ code: 'zone-incident', message: input.incident })
  if (input.isNotEating) {
    warnings.push({
      code: 'not-eating',
      message: 'It has refused food: a moult may be near, or it is unwell.',
    })
  }
  if (input.lastFedOn && input.lastFedOn >= today) {
    warnings.push({ code: 'just-fed', message: 'It was fed today: let it digest before a journey.' })
  }
  if (forecast.status === 'too-cold') warnings.push({ code: 'chilled', message: forecast.reason })
  if (forecast.status === 'forecast' && forecast.isOverdue) {
    warnings.push({
      code: 'moult-overdue',
      message: 'Its moult is overdue: look for a skin that was missed.',
    })
  }
  return warnings
}
