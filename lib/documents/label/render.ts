import type { PlainDate } from '@/lib/domain/calendar/date'
import { type LabelSheet, labelPlaces, paperOf } from '@/lib/domain/label/sheet'
import { messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { latinParts, shorten } from '../care-sheet/parts'
import { displayable } from '../displayable'
import { qrSvg } from '../qr'
import { type TypesetRequest, typeset } from '../typeset.mjs'
import { typesetOffThread } from '../typeset-process'
import { conventionText, type StageOfLife, stageText } from '../wording/animal'
import { shortDateText } from '../wording/dates'
import { type Wording, wordingFor } from '../wording/units'

/**
 * A run of labels in the order given: for a 62 × 29 mm roll one label is one page; on a sheet they stand side by side
 * from a place on. Units play no part on a label.
 */
export type LabelRunPayload = {
  language: Language
  labels: LabelPayload[]
  /** the roll where it is left out */
  layout?: { sheet: LabelSheet; startAt: number }
}

export type LabelPayload = {
  /** As people read it: "K7Q 97". */
  code: string
  scientificName: string
  stage?: StageOfLife | null
  hatchedOn?: PlainDate | null
  lastMoultOn?: PlainDate | null
  /** Where a scan of the label leads; null prints a label without a code to scan. */
  url?: string | null
}

export function renderLabels(run: LabelRunPayload): Uint8Array {
  return typeset(labelRequest(run))
}

export function renderLabelsOffThread(run: LabelRunPayload): Promise<Uint8Array> {
  return typesetOffThread(labelRequest(run))
}

function labelRequest({ language, labels, layout }: LabelRunPayload): TypesetRequest {
  if (labels.length === 0) throw new RangeError('a run of labels needs at least one')
  const wording = wordingFor(language, { temperature: 'celsius', length: 'millimetre' }, 'a4')
  const title = messagesIn(language, 'label')('title')
  const sheet = layout ? sheetContent(layout, labels.length) : null
  const data = { language, title, sheet, labels: labels.map((label) => labelContent(label, wording)) }
  return { template: 'label/label.typ', data }
}

function sheetContent({ sheet, startAt }: NonNullable<LabelRunPayload['layout']>, count: number) {
  const paper = paperOf(sheet)
  return {
    paperWidthMm: paper.widthMm,
    paperHeightMm: paper.heightMm,
    widthMm: sheet.widthMm,
    heightMm: sheet.heightMm,
    places: labelPlaces(sheet, { count, startAt }),
  }
}

function labelContent(label: LabelPayload, wording: Wording) {
  const { language } = wording
  const say = messagesIn(language, 'label')
  const { stage, hatchedOn, lastMoultOn } = label
  const dates = [
    hatchedOn ? say('hatched', { date: shortDateText(hatchedOn, wording) }) : null,
    lastMoultOn ? say('moulted', { date: shortDateText(lastMoultOn, wording) }) : null,
  ]
  const latinName = shorten(label.scientificName, 48)
  const texts = displayable({
    code: shorten(label.code, 12) ?? '?',
    latin: latinName ? latinParts(latinName) : [],
    stage: stage ? stageText(stage, language) : null,
    convention: stage && !stage.isAdult ? conventionText(stage.naming, language) : null,
    dates: dates.filter((date) => date !== null),
  })
  return { ...texts, qr: label.url ? qrSvg(label.url) : null }
}
