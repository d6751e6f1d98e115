import { dayAndMonthText } from '../wording/dates'
import { rangeText } from '../wording/units'
import { eggCaseSections } from './egg-case-sections'
import { foodSentences, homeSentences, warmthSentences, waterSentences } from './keeping-sections'
import { shownWindow } from './moult-window'
import { hush, joined, lead, must, pleasant, type Section, type Sentence, useful } from './parts'
import type { Speaker } from './speaker'

/** The short texts in the middle of the sheet; one that would be empty is left out. */
export function careSections(speaker: Speaker): Section[] {
  const { say, payload, isMantis } = speaker
  if (payload.eggCase) return eggCaseSections(speaker, payload.eggCase)
  const sections: [string, Sentence[]][] = [
    [say('moulting'), moultSentences(speaker)],
    [say('food'), foodSentences(speaker)],
    [say('water'), waterSentences(speaker)],
    [say('home'), homeSentences(speaker)],
    [say('warmth'), warmthSentences(speaker)],
    [say('firstDay'), isMantis ? firstDaySentences(speaker) : [must(say('unpack')), must(say('peaceOther'))]],
    [say('normalDay'), isMantis ? [must(say('normal'))] : []],
    [say('wrong'), isMantis ? troubleSentences(speaker) : otherSentences(speaker)],
  ]
  return sections.flatMap(([heading, sentences]) => (sentences.length > 0 ? [{ heading, sentences }] : []))
}

/** Where nothing is on record about a kind of animal, the sheet says so and who knows. */
function otherSentences({ payload, say }: Speaker): Sentence[] {
  const isBare = !payload.food?.now?.length && !payload.home?.now
  return joined([must(say('callUsOther')), isBare && lead(say('askOther'))])
}

/** Signs rule, dates only warn: never an exact day, and never "do not feed" for a whole window. */
function moultSentences(speaker: Speaker): Sentence[] {
  const { payload, say, wording, isMantis } = speaker
  if (!isMantis) return []
  const softUntil = payload.moult?.softUntilOn
  const soft = softUntil ? hush(say('softUntil', { date: dayAndMonthText(softUntil, wording) })) : null
  if (payload.animal.stage?.isAdult) return joined([soft, must(say('adultNoMoult'))])
  return joined([
    soft,
    windowSentence(speaker),
    must(say('signs')),
    must(say('signsDo')),
    hush(say('leaveUntil')),
    must(say('lid')),
  ])
}

function windowSentence({ payload, say, wording, isLot }: Speaker): Sentence | null {
  const window = shownWindow(payload)
  if (!window) return null
  const to = dayAndMonthText(window.toOn, wording)
  if (window.isPassed) return lead(say('windowPassed'))
  if (window.isOpen) return lead(say(isLot ? 'windowOpenLot' : 'windowOpen', { to }))
  const from = dayAndMonthText(window.fromOn, wording)
  return lead(say(isLot ? 'windowBetweenLot' : 'windowBetween', { from, to }))
}

/** A soft animal is fed when it is hard, whatever the hour of its arrival. */
function firstDaySentences({ payload, say }: Speaker): Sentence[] {
  const isSoft = Boolean(payload.moult?.softUntilOn)
  return joined([must(say('unpack')), must(say('firstWater')), !isSoft && must(say('firstFood'))])
}

function troubleSentences({ payload, say, wording }: Speaker): Sentence[] {
  const { stage } = payload.animal
  const isAdult = stage?.isAdult === true
  const adultLife = payload.climate?.adultLifeWeeks
  return joined([
    must(say('callUs')),
    stage && !isAdult ? pleasant(say('lostLimb')) : null,
    isAdult ? useful(say('age')) : null,
    isAdult && adultLife ? pleasant(say('adultLife', { range: rangeText(adultLife, wording) })) : null,
    isAdult && mayLayEggs(payload) ? must(say('eggs')) : null,
  ])
}

function mayLayEggs({ animal, lot }: Speaker['payload']): boolean {
  return [animal, ...(lot ?? [])].some(({ sex }) => sex !== 'male')
}
