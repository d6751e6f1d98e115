import { messagesIn, type Say } from '@/lib/messages/catalogue'
import type { Wording } from '../wording/units'
import { shorten } from './parts'
import type { CareSheetPayload } from './payload'

/** What every part of a sheet is written with. `isMantis`: text about mantises is for mantises only. */
export type Speaker = {
  payload: CareSheetPayload
  say: Say<'careSheet'>
  wording: Wording
  isMantis: boolean
  isLot: boolean
  /** All that was typed, as the public page shows it; paper says where it cuts. */
  isWhole: boolean
}

export function speakerFor(payload: CareSheetPayload, wording: Wording, isWhole = false): Speaker {
  return {
    payload,
    say: messagesIn(payload.language, 'careSheet'),
    wording,
    isMantis: payload.species.kind === 'mantis',
    isLot: (payload.lot?.length ?? 0) > 1,
    isWhole,
  }
}

const WHOLE_LIMIT = 6_000

/** What somebody typed, as much of it as there is room for, and plainly where the rest is. */
export function typedText(text: string | null | undefined, limit: number, speaker: Speaker): string | null {
  const { payload, say, isWhole } = speaker
  const all = shorten(text, WHOLE_LIMIT)
  const shown = isWhole ? all : shorten(text, limit)
  if (shown === null || shown === all) return shown
  return `${shown} (${say(payload.publicPageUrl ? 'continues' : 'continuesAsk')})`
}
