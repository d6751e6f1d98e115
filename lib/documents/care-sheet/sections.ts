import { messagesIn, type Say } from '@/lib/messages/catalogue'
import { dayAndMonthText } from '../wording/dates'
import { mealsText, preyText } from '../wording/prey'
import {
  bodyLengthText,
  listText,
  rangeText,
  roomText,
  temperatureRangeText,
  temperatureText,
  type Wording,
} from '../wording/units'
import { shownWindow } from './moult-window'
import { hush, joined, lead, must, pleasant, type Section, type Sentence, useful } from './parts'
import type { CareSheetPayload, SheetSpace } from './payload'

type Speaker = { payload: CareSheetPayload; say: Say<'careSheet'>; wording: Wording; isMantis: boolean }

/** The eight short texts in the middle of the sheet; one that would be empty is left out. */
export function careSections(payload: CareSheetPayload, wording: Wording): Section[] {
  const say = messagesIn(payload.language, 'careSheet')
  const speaker: Speaker = { payload, say, wording, isMantis: payload.species.kind === 'mantis' }
  const sections: [string, Sentence[]][] = [
    [say('moulting'), moultSentences(speaker)],
    [say('food'), foodSentences(speaker)],
    [say('water'), waterSentences(speaker)],
    [say('home'), homeSentences(speaker)],
    [say('warmth'), warmthSentences(speaker)],
    [say('firstDay'), firstDaySentences(speaker)],
    [say('wrong'), troubleSentences(speaker)],
  ]
  return sections.flatMap(([heading, sentences]) => (sentences.length > 0 ? [{ heading, sentences }] : []))
}

/** Signs rule, dates only warn: never an exact day, and never "do not feed" for a whole window. */
function moultSentences({ payload, say, wording, isMantis }: Speaker): Sentence[] {
  if (!isMantis) return []
  const softUntil = payload.moult?.softUntilOn
  const soft = softUntil ? hush(say('softUntil', { date: dayAndMonthText(softUntil, wording) })) : null
  if (payload.animal.stage?.isAdult) return joined([soft, must(say('adultNoMoult'))])
  return joined([
    soft,
    windowSentence({ payload, say, wording, isMantis }),
    must(say('signs')),
    must(say('signsDo')),
    hush(say('leaveUntil')),
    must(say('lid')),
  ])
}

function windowSentence({ payload, say, wording }: Speaker): Sentence | null {
  const window = shownWindow(payload)
  if (!window) return null
  const to = dayAndMonthText(window.toOn, wording)
  if (window.isPassed) return lead(say('windowPassed'))
  if (window.isOpen) return lead(say('windowOpen', { to }))
  return lead(say('windowBetween', { from: dayAndMonthText(window.fromOn, wording), to }))
}

function foodSentences({ payload, say, wording, isMantis }: Speaker): Sentence[] {
  const { now, next, longestPreyMm, soldHere } = payload.food ?? {}
  const sold = soldHere?.map((item) => preyText(item, wording)) ?? []
  return joined([
    now?.length ? lead(say('foodNow', { meals: mealsText(now, wording) })) : null,
    next?.length && !payload.animal.stage?.isAdult
      ? must(say('foodNext', { meals: mealsText(next, wording) }))
      : null,
    longestPreyMm ? must(say('foodSize', { length: bodyLengthText(longestPreyMm, wording) })) : null,
    isMantis ? must(say('leftovers')) : null,
    sold.length > 0 ? pleasant(say('soldHere', { list: listText(sold, wording, 'conjunction') })) : null,
  ])
}

function homeSentences({ payload, say, wording, isMantis }: Speaker): Sentence[] {
  const { now, next, hangSpaceMm } = payload.home ?? {}
  const { stage } = payload.animal
  const size = (space: SheetSpace) => ({
    height: roomText(space.heightMm, wording),
    width: roomText(space.widthMm, wording),
  })
  const grip = hangSpaceMm ? say('hangSpace', { space: roomText(hangSpaceMm, wording) }) : say('grip')
  return joined([
    now ? lead(say('homeNow', size(now))) : null,
    next && !stage?.isAdult ? must(say('homeNext', size(next))) : null,
    isMantis ? must(grip) : null,
    isMantis ? must(say('alone')) : null,
    isMantis && stage && stage.moults <= 2 && !stage.isAdult ? useful(say('notTooLarge')) : null,
  ])
}

function warmthSentences({ payload, say, wording }: Speaker): Sentence[] {
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

function waterSentences({ payload, say, wording, isMantis }: Speaker): Sentence[] {
  const { mistingEveryDays, humidityPct } = payload.climate ?? {}
  const often = mistingEveryDays
    ? messagesIn(payload.language, 'prey')('mistEveryDays', { n: mistingEveryDays })
    : null
  const lengthMm = payload.animal.bodyLengthMm
  return joined([
    often ? lead(say('mist', { often })) : null,
    humidityPct ? must(say('humidity', { range: rangeText(humidityPct, wording) })) : null,
    isMantis && lengthMm && lengthMm < DROWNS_BELOW_MM ? must(say('drown')) : null,
  ])
}

/** A soft animal is fed when it is hard, whatever the hour of its arrival. */
function firstDaySentences({ payload, say, isMantis }: Speaker): Sentence[] {
  if (!isMantis) return []
  const isSoft = Boolean(payload.moult?.softUntilOn)
  return joined([must(say('unpack')), must(say('firstWater')), !isSoft && must(say('firstFood'))])
}

function troubleSentences({ payload, say, wording, isMantis }: Speaker): Sentence[] {
  if (!isMantis) return []
  const { stage, sex } = payload.animal
  const isAdult = stage?.isAdult === true
  const adultLife = payload.climate?.adultLifeWeeks
  return joined([
    useful(say('normal')),
    must(say('callUs')),
    stage && !isAdult ? pleasant(say('lostLimb')) : null,
    isAdult ? useful(say('age')) : null,
    isAdult && adultLife ? pleasant(say('adultLife', { range: rangeText(adultLife, wording) })) : null,
    isAdult && sex !== 'male' ? must(say('eggs')) : null,
  ])
}
