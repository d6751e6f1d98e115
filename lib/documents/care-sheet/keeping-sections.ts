import { messagesIn } from '@/lib/messages/catalogue'
import { mealsText, preyText } from '../wording/prey'
import {
  bodyLengthText,
  listText,
  rangeText,
  roomText,
  temperatureRangeText,
  temperatureText,
} from '../wording/units'
import { joined, lead, must, pleasant, type Sentence, shorten, useful } from './parts'
import type { SheetSpace } from './payload'
import type { Speaker } from './speaker'

/** For several animals what is said is said for each, and prey fits the smallest. */
export function foodSentences({ payload, say, wording, isMantis, isLot }: Speaker): Sentence[] {
  const { now, next, longestPreyMm } = payload.food ?? {}
  return joined([
    now?.length ? lead(say(isLot ? 'foodNowLot' : 'foodNow', { meals: mealsText(now, wording) })) : null,
    next?.length && !payload.animal.stage?.isAdult
      ? must(say('foodNext', { meals: mealsText(next, wording) }))
      : null,
    longestPreyMm
      ? must(say(isLot ? 'foodSizeLot' : 'foodSize', { length: bodyLengthText(longestPreyMm, wording) }))
      : null,
    isMantis ? must(say('leftovers')) : null,
    ...soldSentences({ payload, say, wording }),
  ])
}

/** What this shop sells of it: from its own books, and in its own words. */
export function soldSentences({
  payload,
  say,
  wording,
}: Pick<Speaker, 'payload' | 'say' | 'wording'>): Sentence[] {
  const sold = payload.food?.soldHere?.map((item) => preyText(item, wording)) ?? []
  const own = shorten(payload.seller.foodText, 160)
  return joined([
    sold.length > 0 ? useful(say('soldHere', { list: listText(sold, wording, 'conjunction') })) : null,
    own ? pleasant(own) : null,
  ])
}

export function homeSentences({ payload, say, wording, isMantis, isLot }: Speaker): Sentence[] {
  const { now, next, hangSpaceMm } = payload.home ?? {}
  const { stage } = payload.animal
  const size = (space: SheetSpace) => ({
    height: roomText(space.heightMm, wording),
    width: roomText(space.widthMm, wording),
  })
  const grip = hangSpaceMm ? say('hangSpace', { space: roomText(hangSpaceMm, wording) }) : say('grip')
  return joined([
    now ? lead(say(isLot ? 'homeNowLot' : 'homeNow', size(now))) : null,
    next && !stage?.isAdult ? must(say('homeNext', size(next))) : null,
    isMantis ? must(grip) : null,
    isMantis ? must(say(isLot ? 'aloneLot' : 'alone')) : null,
    isMantis && isPair(payload.lot) ? must(say('pairApart')) : null,
    isMantis && stage && stage.moults <= 2 && !stage.isAdult ? useful(say('notTooLarge')) : null,
  ])
}

/** One of each sex, as surely as it is known. */
export function isPair(lot: Speaker['payload']['lot']): boolean {
  if (lot?.length !== 2) return false
  const sexes = new Set(lot.map(({ sex, certainty }) => (certainty === 'none' ? 'unsexed' : sex)))
  return sexes.has('male') && sexes.has('female')
}

export function warmthSentences({ payload, say, wording }: Speaker): Sentence[] {
  const { dayC, lowestNightC, hotSpotC } = payload.climate ?? {}
  if (!dayC) return []
  return joined([
    lead(say('day', { range: temperatureRangeText(dayC, wording) })),
    typeof lowestNightC === 'number'
      ? must(say('night', { temperature: temperatureText(lowestNightC, wording) }))
      : null,
    hotSpotC ? must(say('hotSpot', { temperature: temperatureText(hotSpotC, wording) })) : null,
  ])
}

/** Hatchlings this short have drowned in a drop (3–4 mm published by the trade, with a margin). */
const DROWNS_BELOW_MM = 6

export function waterSentences(speaker: Speaker): Sentence[] {
  const { payload, say, wording, isMantis } = speaker
  const { humidityPct } = payload.climate ?? {}
  const often = mistingText(speaker)
  const lengthMm = payload.animal.bodyLengthMm
  return joined([
    often ? lead(say('mist', { often })) : null,
    humidityPct ? must(say('humidity', { range: rangeText(humidityPct, wording) })) : null,
    isMantis && lengthMm && lengthMm < DROWNS_BELOW_MM ? must(say('drown')) : null,
  ])
}

export function mistingText({ payload }: Speaker): string | null {
  const days = payload.climate?.mistingEveryDays
  return days ? messagesIn(payload.language, 'prey')('mistEveryDays', { n: days }) : null
}
