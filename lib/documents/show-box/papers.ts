import type { Paper } from '@/lib/domain/care-sheet/paper'
import { writeMoney } from '@/lib/domain/money/money'
import { messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { subjectLines } from '../care-sheet/facts'
import { foodSentences, homeSentences, warmthSentences } from '../care-sheet/keeping-sections'
import { latinParts, shorten } from '../care-sheet/parts'
import type { CareSheetPayload } from '../care-sheet/payload'
import { careSheetContents } from '../care-sheet/render'
import { speakerFor } from '../care-sheet/speaker'
import { displayable } from '../displayable'
import { qrSvg } from '../qr'
import { type TypesetRequest, typeset } from '../typeset.mjs'
import { typesetOffThread } from '../typeset-process'
import { wordingFor } from '../wording/units'

/** Everything a table at a show needs, in one file for one print job: tags, cards to stand, a sheet for each animal. */
export type BoxPapersPayload = {
  name: string
  number: number
  paper: Paper
  /** of the tags and of the document itself */
  language: Language
  currency: string
  tags: BoxTag[]
  cards: { sheet: CareSheetPayload; priceMinor: number | null }[]
  sheets: CareSheetPayload[]
}

export type BoxTag = {
  /** As people read it: "K7Q 97". */
  code: string
  scientificName: string
  words: string
  priceMinor: number | null
  url: string
}

export function renderBoxPapers(payload: BoxPapersPayload): Uint8Array {
  return typeset(papersRequest(payload))
}

export function renderBoxPapersOffThread(payload: BoxPapersPayload): Promise<Uint8Array> {
  return typesetOffThread(papersRequest(payload))
}

function papersRequest(payload: BoxPapersPayload): TypesetRequest {
  const { sheets, pictures } = careSheetContents(payload.sheets)
  const say = messagesIn(payload.language, 'showBox')
  const title = say('title', { number: payload.number, name: shorten(payload.name, 80) ?? '' })
  const data = {
    ...{ sheets, paper: payload.paper, language: payload.language },
    ...displayable({ title }),
    tags: payload.tags.map((tag) => tagContent(tag, payload)),
    cards: payload.cards.map((card) => cardContent(card, payload.currency)),
  }
  return { template: 'show-box/papers.typ', data, pictures }
}

function tagContent({ code, scientificName, words, priceMinor, url }: BoxTag, payload: BoxPapersPayload) {
  const texts = displayable({
    code: shorten(code, 12) ?? '?',
    latin: latinParts(shorten(scientificName, 48) ?? ''),
    words: shorten(words, 60) ?? '',
    price: priceMinor === null ? '' : writeMoney(priceMinor, payload.currency, payload.language),
  })
  return { ...texts, qr: qrSvg(url) }
}

/** What a visitor reads from a step away: who it is, what it eats, how warm it lives, what it costs. */
function cardContent({ sheet, priceMinor }: BoxPapersPayload['cards'][number], currency: string) {
  const { language, species } = sheet
  const say = messagesIn(language, 'showBox')
  const speaker = speakerFor(sheet, wordingFor(language, sheet.units, sheet.paper))
  const { isMantis } = speaker
  const name = shorten(species.commonName, 60)
  const parts = [foodSentences(speaker), homeSentences(speaker), warmthSentences(speaker)]
  return displayable({
    language,
    name,
    latin: latinParts(shorten(species.scientificName, 60) ?? ''),
    lines: subjectLines(speaker),
    facts: parts.flatMap((sentences) => sentences.filter(({ isLead }) => isLead)).map(({ text }) => text),
    price: priceMinor === null ? say('askPrice') : writeMoney(priceMinor, currency, language),
    ask: isMantis ? say('askMantis') : say('ask'),
  })
}
