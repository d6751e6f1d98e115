import type { PackingWay } from '@/lib/domain/dispatch/gate'
import { messagesIn } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { displayable } from '../displayable'
import { type TypesetRequest, typeset } from '../typeset.mjs'
import { typesetOffThread } from '../typeset-process'
import { longDateText } from '../wording/dates'
import { type Wording, wordingFor } from '../wording/units'

/** What lies in a box, what is stuck on it, or what is given to somebody who has paid and comes back. */
export type SlipKind = 'packing' | 'carrier' | 'collection'

export type SlipPayload = {
  kind: SlipKind
  language: Language
  seller: { name: string; contact: string }
  number: number
  recipient: { name: string; address: string; phone: string }
  /** The packing day, or the day it left. */
  packedOn: string | null
  arriveOn: string | null
  paidOn: string | null
  /** What is still to be paid, with its currency; null where nothing is. */
  owed: string | null
  claimHours: number
  packing: PackingWay | null
  /** Air that every animal of the box stands, °C. */
  range: { lowC: number; highC: number } | null
  /** "4th instar, female" with the labels of its animals. */
  lines: { words: string; labels: string[] }[]
}

export function renderSlip(payload: SlipPayload): Uint8Array {
  return typeset(slipRequest(payload))
}

export function renderSlipOffThread(payload: SlipPayload): Promise<Uint8Array> {
  return typesetOffThread(slipRequest(payload))
}

type Say = ReturnType<typeof messagesIn<'order'>>

function slipRequest(payload: SlipPayload): TypesetRequest {
  const { kind, language } = payload
  const say = messagesIn(language, 'order')
  const wording = wordingFor(language, { temperature: 'celsius', length: 'millimetre' }, 'a4')
  const data = displayable({
    language,
    title: say(
      ({ packing: 'packingSlip', carrier: 'carrierNotes', collection: 'collectionSlip' } as const)[kind],
    ),
    order: say('order', { number: payload.number }),
    seller: [payload.seller.name, payload.seller.contact].filter(Boolean),
    ...(kind === 'carrier' ? carrierContent(payload, say) : ownContent(payload, say, wording)),
  })
  return { template: kind === 'carrier' ? 'order/carrier.typ' : 'order/slip.typ', data }
}

function carrierContent({ seller, packing, range, recipient }: SlipPayload, say: Say) {
  const packs: Partial<Record<PackingWay, string>> = {
    'heat-pack': say('heat'),
    insulated: say('heat'),
    'cool-pack': say('cool'),
  }
  return {
    live: say('live'),
    to: recipientLines(recipient),
    toWord: say('to'),
    notes: [
      say('upright'),
      range ? say('plain', { low: range.lowC, high: range.highC }) : null,
      say('shade'),
      say('noOpen'),
      packing ? (packs[packing] ?? null) : null,
      seller.contact ? say('question', { contact: seller.contact }) : null,
    ].filter((note) => note !== null),
  }
}

function ownContent(payload: SlipPayload, say: Say, wording: Wording) {
  const isKept = payload.kind === 'collection'
  const day = (key: 'packed' | 'arrives' | 'paid' | 'readyFrom', on: string | null) =>
    on ? say(key, { date: longDateText(on, wording) }) : null
  const ready = day('readyFrom', payload.packedOn) ?? say('notReady')
  const owed = payload.owed === null ? null : say('owed', { amount: payload.owed })
  const dates = isKept
    ? [day('paid', payload.paidOn), owed, ready]
    : [day('packed', payload.packedOn), day('arrives', payload.arriveOn)]
  return {
    dates: dates.filter((text) => text !== null),
    toWord: say('to'),
    to: isKept ? [] : recipientLines(payload.recipient),
    whatWord: isKept ? say('kept') : say('what'),
    lines: payload.lines,
    stepsWord: isKept ? null : say('onArrival'),
    steps: isKept ? [] : [say('unpack'), say('warm'), say('water'), say('food'), say('hands')],
    notes: isKept ? [say('collect')] : [say('claim', { hours: payload.claimHours }), say('rules')],
  }
}

function recipientLines({ name, address, phone }: SlipPayload['recipient']): string[] {
  return [name, ...address.split('\n'), phone].map((line) => line.trim()).filter(Boolean)
}
