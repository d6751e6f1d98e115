import { shortDateText } from '../wording/dates'
import { joined, must, type Sentence, shorten } from './parts'
import { type Speaker, typedText } from './speaker'

export type SheetFoot = { sentences: Sentence[]; terms: string | null; contact: string | null; small: string }

/** Whom to ask, on which terms, and where the values come from. */
export function footTexts(speaker: Speaker): SheetFoot {
  const { payload, say } = speaker
  const seller = shorten(payload.seller.name, 70) ?? ''
  const version = payload.profileVersion ? say('profileVersion', { n: payload.profileVersion }) : null
  return {
    sentences: [must(say('arrival', { seller }))],
    terms: typedText(payload.seller.claimTerms, 320, speaker),
    contact: shorten(payload.seller.contact, 160),
    small: joined([version, reprintText(speaker), forecastText(speaker)]).join(' · '),
  }
}

function reprintText({ payload, say, wording }: Speaker): string | null {
  const { reprint } = payload
  if (!reprint) return null
  const date = shortDateText(reprint.firstOn, wording)
  return reprint.profileVersion
    ? say('reprintVersion', { date, n: reprint.profileVersion })
    : say('reprint', { date })
}

function forecastText({ payload, say, isLot }: Speaker): string | null {
  if (payload.eggCase) return payload.eggCase.hatch ? say('forecastNoteEggCase') : null
  if (!payload.moult?.toOn && !payload.calendar?.length) return null
  return say(isLot ? 'forecastNoteLot' : 'forecastNote')
}

/** What stands beside the code. */
export function pageCaption({ payload, say, isLot }: Speaker): string {
  if (payload.eggCase) return say('pageEggCase')
  return say(isLot ? 'pageLot' : 'page')
}
