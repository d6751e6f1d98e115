import type { PlainDate } from '@/lib/domain/calendar/date'
import { PREY_ITEMS, type PreyItem } from '@/lib/domain/care-profile/profile'
import { messagesIn, type Say } from '@/lib/messages/catalogue'
import { conventionText, sexText, stageText } from '../wording/animal'
import { longDateText, shortDateText } from '../wording/dates'
import { preyText } from '../wording/prey'
import { bodyLengthText, type Wording, wordingFor } from '../wording/units'
import { type CalendarPicture, calendarPicture } from './calendar-picture'
import { cautionBoxes } from './cautions'
import { joined, type LatinPart, latinParts, must, type Section, type Sentence, shorten } from './parts'
import type { CareSheetPayload } from './payload'
import { careSections } from './sections'
import { type TimelinePicture, timelinePicture } from './timeline-picture'

/** A care sheet in words and measures, ready to be set: nothing in it is looked up or worked out any more. */
export type SheetContent = {
  language: string
  paper: string
  printedOn: { year: number; month: number; day: number }
  title: string
  kicker: string[]
  labelTerm: string
  labelCode: string
  name: string | null
  latin: LatinPart[]
  lines: string[]
  facts: { term: string; text: string }[]
  photo: { alt: string; space: string }
  timeline: TimelinePicture | null
  sections: Section[]
  calendar: CalendarPicture | null
  boxes: Section[]
  foot: { sentences: Sentence[]; terms: string | null; contact: string | null; small: string }
  page: { url: string; caption: string } | null
}

type Speaker = { payload: CareSheetPayload; say: Say<'careSheet'>; wording: Wording }

/** The payload in the words of its language. Pure; O(steps + calendar days). */
export function sheetContent(payload: CareSheetPayload): SheetContent {
  const wording = wordingFor(payload.language, payload.units, payload.paper)
  const speaker: Speaker = { payload, say: messagesIn(payload.language, 'careSheet'), wording }
  const { species, animal } = payload
  const name = shorten(species.commonName, 80)
  const labelCode = shorten(animal.labelCode, 20) ?? '?'
  // A heading may not be empty: without any name the animal is called by its label.
  const latinName = shorten(species.scientificName, 80) ?? (name ? '' : labelCode)
  return {
    language: payload.language,
    paper: payload.paper,
    printedOn: dateParts(payload.printedOn),
    title: speaker.say('title', { name: `${name ?? latinName}, ${labelCode}` }),
    kicker: kickerTexts(speaker),
    labelTerm: speaker.say('label'),
    labelCode,
    name,
    latin: latinName ? latinParts(latinName) : [],
    lines: animalLines(speaker),
    facts: animalFacts(speaker),
    photo: { alt: speaker.say('photoOf'), space: speaker.say('photoSpace') },
    timeline: timelinePicture(payload, wording),
    sections: careSections(payload, wording),
    calendar: calendarPicture(payload, wording),
    boxes: cautionBoxes(payload),
    foot: footTexts(speaker),
    page: payload.publicPageUrl ? { url: payload.publicPageUrl, caption: speaker.say('page') } : null,
  }
}

function dateParts(on: PlainDate): SheetContent['printedOn'] {
  const [year = 0, month = 0, day = 0] = on.split('-').map(Number)
  return { year, month, day }
}

function kickerTexts({ payload, say, wording }: Speaker): string[] {
  const handedOver = payload.handedOverOn
  const date = handedOver
    ? say('handedOver', { date: longDateText(handedOver, wording) })
    : say('printed', { date: longDateText(payload.printedOn, wording) })
  return joined([shorten(payload.seller.name, 70), date])
}

function animalLines({ payload, wording }: Speaker): string[] {
  const { animal, language } = payload
  const stage = animal.stage
  if (!stage) return payload.species.kind === 'mantis' ? [sexText(animal, language)] : []
  const say = messagesIn(language, 'animal')
  const name = stageText(stage, language)
  if (stage.isAdult) return [`${sexText(animal, language)} · ${name}`, say('fullyGrown')]
  return [
    `${sexText(animal, language)} · ${name} (${conventionText(stage.naming, wording.language)})`,
    say('moultsSinceHatch', { n: stage.moults }),
  ]
}

function animalFacts({ payload, say, wording }: Speaker): { term: string; text: string }[] {
  const { animal } = payload
  const date = (on: string | null | undefined) => (on ? shortDateText(on, wording) : null)
  const mated = { yes: say('matedYes'), no: say('matedNo'), unknown: say('matedUnknown') }
  const facts: [string, string | null][] = [
    [say('hatched'), date(animal.hatchedOn)],
    [say('lastMoult'), date(animal.lastMoultOn)],
    [say('lastAte'), lastFedText(payload, wording)],
    [say('bodyLength'), animal.bodyLengthMm ? bodyLengthText(animal.bodyLengthMm, wording) : null],
    [say('mated'), animal.mated ? mated[animal.mated] : null],
    [say('injuries'), shorten(animal.injuries, 140)],
    [say('note'), shorten(animal.note, 240)],
  ]
  return facts.flatMap(([term, text]) => (text ? [{ term, text }] : []))
}

function lastFedText({ animal }: CareSheetPayload, wording: Wording): string | null {
  if (!animal.lastFed) return null
  const { on, prey } = animal.lastFed
  const known = PREY_ITEMS.find((item: PreyItem) => item === prey)
  return joined([shortDateText(on, wording), known ? preyText(known, wording) : shorten(prey, 60)]).join(', ')
}

function footTexts({ payload, say }: Speaker): SheetContent['foot'] {
  const seller = shorten(payload.seller.name, 70) ?? ''
  const version = payload.profileVersion ? say('profileVersion', { n: payload.profileVersion }) : null
  const forecast = payload.moult?.toOn || payload.calendar?.length ? say('forecastNote') : null
  return {
    sentences: [must(say('arrival', { seller }))],
    terms: shorten(payload.seller.claimTerms, 320),
    contact: shorten(payload.seller.contact, 160),
    small: joined([version, forecast]).join(' · '),
  }
}
