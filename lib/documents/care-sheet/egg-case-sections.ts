import { addDays, maxDate } from '@/lib/domain/calendar/date'
import { dayAndMonthText } from '../wording/dates'
import { mealsText } from '../wording/prey'
import { rangeText, temperatureRangeText } from '../wording/units'
import { mistingText, soldSentences } from './keeping-sections'
import { hush, joined, lead, must, type Section, type Sentence, useful } from './parts'
import type { SheetEggCase } from './payload'
import type { Speaker } from './speaker'

/** Days from a new culture of small fruit flies to its first flies, as the sentence says (two weeks). */
const FLY_CULTURE_DAYS = 14

type EggSpeaker = Speaker & { eggCase: SheetEggCase }

/** What whoever takes an egg case home has to know before there are a hundred mouths. */
export function eggCaseSections(speaker: Speaker, eggCase: SheetEggCase): Section[] {
  const { say } = speaker
  const egg: EggSpeaker = { ...speaker, eggCase }
  const sections: [string, Sentence[]][] = [
    [say('hatching'), hatchSentences(egg)],
    [say('home'), [must(say('eggHang')), must(say('eggMesh'))]],
    [say('warmth'), warmthSentences(egg)],
    [say('water'), waterSentences(egg)],
    [say('eggReady'), readySentences(egg)],
    [say('firstDay'), [must(say('unpack'))]],
    [say('wrong'), [must(say('wasps')), must(say('eggLate'))]],
  ]
  return sections.flatMap(([heading, sentences]) => (sentences.length > 0 ? [{ heading, sentences }] : []))
}

function hatchSentences({ payload, say, wording, eggCase }: EggSpeaker): Sentence[] {
  const { nymphs } = eggCase
  return joined([
    windowSentence({ payload, say, wording, eggCase }),
    must(say('hatchHow')),
    nymphs ? useful(say('hatchCount', { range: rangeText(nymphs, wording) })) : null,
    useful(say('hatchUnsure')),
  ])
}

/** A window is never one day: like a moult, a hatch is not promised. */
function windowSentence({
  payload,
  say,
  wording,
  eggCase,
}: Pick<EggSpeaker, 'payload' | 'say' | 'wording' | 'eggCase'>) {
  const { hatch } = eggCase
  if (!hatch) return null
  const { printedOn } = payload
  const to = dayAndMonthText(maxDate(hatch.toOn, addDays(hatch.fromOn, 2)), wording)
  if (hatch.toOn <= printedOn) return lead(say('hatchPassed'))
  if (hatch.fromOn <= printedOn) return lead(say('hatchOpen', { to }))
  return lead(say('hatchBetween', { from: dayAndMonthText(hatch.fromOn, wording), to }))
}

function warmthSentences({ say, wording, eggCase }: EggSpeaker): Sentence[] {
  const { incubationC, restUntilOn, restC, mayNeedRest } = eggCase
  const rest =
    restUntilOn && restC
      ? hush(
          say('restUntil', {
            date: dayAndMonthText(restUntilOn, wording),
            range: temperatureRangeText(restC, wording),
          }),
        )
      : null
  return joined([
    rest,
    incubationC ? lead(say('eggWarm', { range: temperatureRangeText(incubationC, wording) })) : null,
    mayNeedRest && !rest ? must(say('restMaybe')) : null,
  ])
}

function waterSentences(speaker: EggSpeaker): Sentence[] {
  const { payload, say, wording } = speaker
  const often = mistingText(speaker)
  const humidityPct = payload.climate?.humidityPct
  return joined([
    often ? lead(say('eggMist', { often })) : null,
    humidityPct ? must(say('humidity', { range: rangeText(humidityPct, wording) })) : null,
    must(say('drown')),
  ])
}

function readySentences(speaker: EggSpeaker): Sentence[] {
  const { payload, say, wording, eggCase } = speaker
  const { hatch, partsEarly } = eggCase
  const fliesBy = hatch ? addDays(hatch.fromOn, -FLY_CULTURE_DAYS) : null
  const now = payload.food?.now
  return joined([
    fliesBy && fliesBy > payload.printedOn
      ? lead(say('eggFliesBy', { date: dayAndMonthText(fliesBy, wording) }))
      : lead(say('eggFliesNow')),
    must(say('eggFirstFood')),
    now?.length ? must(say('foodNowLot', { meals: mealsText(now, wording) })) : null,
    must(say(partsEarly === false ? 'eggCupsAsk' : 'eggCups')),
    ...soldSentences(speaker),
  ])
}
