import type { PlainDate } from '@/lib/domain/calendar/date'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import type { PaymentKind } from '@/lib/domain/sale/payment'
import type { SoldFacts } from '@/lib/domain/sale/sold-facts'
import { messagesIn, type Say } from '@/lib/messages/catalogue'
import type { Language } from '@/lib/messages/language'
import { displayable } from '../displayable'
import { type TypesetRequest, typeset } from '../typeset.mjs'
import { typesetOffThread } from '../typeset-process'
import { longDateText } from '../wording/dates'
import { soldText } from '../wording/sold'
import { type Wording, wordingFor } from '../wording/units'

export const RECEIPT_PAPERS = ['roll', 'a4', 'letter'] as const
/** An 80 mm roll, or a sheet. */
export type ReceiptPaper = (typeof RECEIPT_PAPERS)[number]

export type ReceiptPayload = {
  paper: ReceiptPaper
  language: Language
  currency: string
  seller: { name: string; contact: string; words: string }
  /** As it is called: "207", "S3A-12". */
  receipt: string
  on: PlainDate
  soldBy: string | null
  buyer: { name: string; address: string } | null
  certifiedNumber: string
  lines: {
    label: string | null
    /** as it was written down when it was sold */
    description: string
    /** the same without words of a language; null where there is only the description */
    facts: SoldFacts | null
    quantity: number
    isCounted: boolean
    unitPriceMinor: number
    discountMinor: number
    priceMinor: number
    returned: number
  }[]
  totalMinor: number
  taxIncluded: boolean
  taxes: { percent: number; netMinor: number; taxMinor: number }[]
  payments: { kind: PaymentKind; on: PlainDate; amountMinor: number; givenMinor: number | null }[]
  /** money of a payment that went back */
  refunds: { kind: PaymentKind; on: PlainDate; amountMinor: number }[]
  /** what is still to be paid; null where nobody said anything of it */
  owedMinor: number | null
  returns: { returnNumber: number; on: PlainDate; refundMinor: number }[]
  note: string
}

export function renderReceipt(payload: ReceiptPayload): Uint8Array {
  return typeset(receiptRequest(payload))
}

export function renderReceiptOffThread(payload: ReceiptPayload): Promise<Uint8Array> {
  return typesetOffThread(receiptRequest(payload))
}

type Writing = {
  say: Say<'receipt'>
  wording: Wording
  money: (minor: number) => string
  percent: (percent: number) => string
}

function writingOf({ language, currency, paper }: ReceiptPayload): Writing {
  const wording = wordingFor(language, { temperature: 'celsius', length: 'millimetre' }, paper)
  const { locale } = wording
  const shares = new Intl.NumberFormat(locale, { style: 'percent', maximumFractionDigits: 2 })
  return {
    say: messagesIn(language, 'receipt'),
    wording,
    // "$12.50" in every English receipt; "US$" would be written elsewhere.
    money: (minor) => writeMoney(minor, currency, language),
    // "19 %" in English, as everywhere else in it.
    percent: (percent) => (language === 'en' ? `${percent} %` : shares.format(percent / 100)),
  }
}

const BACK_KEYS = {
  cash: 'backCash',
  card: 'backCard',
  transfer: 'backTransfer',
  voucher: 'backVoucher',
  other: 'backOther',
} as const

function receiptRequest(payload: ReceiptPayload): TypesetRequest {
  const writing = writingOf(payload)
  const { say, wording, money } = writing
  const { seller, buyer, certifiedNumber, soldBy, note } = payload
  const facts = [
    longDateText(payload.on, wording),
    soldBy ? say('soldBy', { name: soldBy }) : '',
    buyer ? say('for', { name: buyer.name }) : '',
    ...(buyer?.address ? buyer.address.split('\n') : []),
    certifiedNumber ? say('certified', { number: certifiedNumber }) : '',
  ]
  const data = {
    paper: payload.paper,
    language: payload.language,
    ...displayable({
      title: say('title', { number: payload.receipt }),
      seller: seller.name,
      contact: seller.contact.split('\n').filter(Boolean),
      facts: facts.filter(Boolean),
      lines: payload.lines.map((line) => lineContent(line, writing)),
      totalWord: say('total'),
      total: money(payload.totalMinor),
      sums: sumsOf(payload, writing),
      returns: payload.returns.map(({ returnNumber, on, refundMinor }) => ({
        words: say('return', { number: returnNumber, date: longDateText(on, wording) }),
        amount: `−${money(refundMinor)}`,
      })),
      words: [...note.split('\n'), ...seller.words.split('\n')].filter(Boolean),
      caution: say('caution'),
    }),
  }
  return { template: 'receipt/receipt.typ', data }
}

function lineContent(line: ReceiptPayload['lines'][number], { say, wording, money }: Writing) {
  const { label, description, facts, quantity, isCounted } = line
  const { unitPriceMinor, discountMinor, priceMinor, returned } = line
  const notes = [
    isCounted && quantity > 1 ? `${quantity} × ${money(unitPriceMinor)}` : '',
    discountMinor > 0 ? say('less', { amount: money(discountMinor) }) : '',
    returned > 0 ? (returned === quantity ? say('allBack') : say('cameBack', { n: returned })) : '',
  ]
  return {
    code: label ? formatCode(label) : null,
    // In English as it was written down: the paper of that day says the same.
    words: facts && wording.language !== 'en' ? soldText(facts, wording) : description,
    price: money(priceMinor),
    notes: notes.filter(Boolean),
  }
}

function sumsOf(payload: ReceiptPayload, { say, money, percent, wording }: Writing) {
  const { taxes, taxIncluded, payments, refunds, owedMinor } = payload
  // What was paid on another day says which.
  const onDay = (words: string, on: PlainDate) =>
    on === payload.on ? words : `${words}, ${longDateText(on, wording)}`
  const change = payments.reduce(
    (sum, { amountMinor, givenMinor }) => sum + (givenMinor ?? amountMinor) - amountMinor,
    0,
  )
  return [
    ...taxes
      .filter((tax) => tax.percent > 0)
      .map((tax) => ({
        words: say(taxIncluded ? 'includesTax' : 'withTax', {
          percent: percent(tax.percent),
          net: money(tax.netMinor),
        }),
        amount: money(tax.taxMinor),
      })),
    ...payments.map(({ kind, on, amountMinor, givenMinor }) => ({
      words:
        givenMinor !== null && givenMinor > amountMinor
          ? say('handedOver', { amount: money(givenMinor) })
          : onDay(say(kind), on),
      amount: money(amountMinor),
    })),
    ...(change > 0 ? [{ words: say('change'), amount: money(change) }] : []),
    ...refunds.map(({ kind, on, amountMinor }) => ({
      words: onDay(say(BACK_KEYS[kind]), on),
      amount: `−${money(amountMinor)}`,
    })),
    ...(owedMinor ? [{ words: say('owed'), amount: money(owedMinor) }] : []),
  ]
}
