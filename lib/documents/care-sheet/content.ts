import type { PlainDate } from '@/lib/domain/calendar/date'
import { longDateText } from '../wording/dates'
import { wordingFor } from '../wording/units'
import { type CalendarPicture, calendarPicture } from './calendar-picture'
import { cautionBoxes } from './cautions'
import { subjectFacts, subjectLabel, subjectLines } from './facts'
import { footTexts, pageCaption, type SheetFoot } from './foot'
import { joined, type LatinPart, latinParts, type Section, shorten } from './parts'
import type { CareSheetPayload } from './payload'
import { careSections } from './sections'
import { type Speaker, speakerFor } from './speaker'
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
  foot: SheetFoot
  page: { url: string; caption: string } | null
}

/**
 * The payload in the words of its language; `isWhole` keeps all that was typed, for a page that has no end. Pure;
 * O(steps + calendar days).
 */
export function sheetContent(payload: CareSheetPayload, { isWhole = false } = {}): SheetContent {
  const wording = wordingFor(payload.language, payload.units, payload.paper)
  const speaker = speakerFor(payload, wording, isWhole)
  const { species } = payload
  const name = shorten(species.commonName, 80)
  const label = subjectLabel(speaker)
  // A heading may not be empty: without any name the animal is called by its label.
  const latinName = shorten(species.scientificName, 80) ?? (name ? '' : label.labelCode)
  return {
    language: payload.language,
    paper: payload.paper,
    printedOn: dateParts(payload.printedOn),
    title: speaker.say('title', { name: `${name ?? latinName}, ${label.labelCode}` }),
    kicker: kickerTexts(speaker),
    ...label,
    name,
    latin: latinName ? latinParts(latinName) : [],
    lines: subjectLines(speaker),
    facts: subjectFacts(speaker),
    photo: { alt: speaker.say('photoOf'), space: speaker.say('photoSpace') },
    timeline: speaker.isLot ? null : timelinePicture(payload, wording),
    sections: careSections(speaker),
    calendar: calendarPicture(payload, wording),
    boxes: cautionBoxes(speaker),
    foot: footTexts(speaker),
    page: payload.publicPageUrl ? { url: payload.publicPageUrl, caption: pageCaption(speaker) } : null,
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
