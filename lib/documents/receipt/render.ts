import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeLongDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import type { PaymentKind } from '@/lib/domain/sale/payment'
import { NO_CERTIFIED_TILL } from '@/lib/domain/sale/receipt-words'
import { displayable } from '../displayable'
import { type TypesetRequest, typeset } from '../typeset.mjs'
import { typesetOffThread } from '../typeset-process'

export const RECEIPT_PAPERS = ['roll', 'a4', 'letter'] as const
/** An 80 mm roll, or a sheet. */
export type ReceiptPaper = (typeof RECEIPT_PAPERS)[number]

export type ReceiptPayload = {
  paper: ReceiptPaper
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
    description: string
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
  payments: { kind: PaymentKind; amountMinor: number; givenMinor: number | null }[]
  returns: { returnNumber: number; on: PlainDate; refundMinor: number }[]
  note: string
}

export function renderReceipt(payload: ReceiptPayload): Uint8Array {
  return typeset(receiptRequest(payload))
}

export function renderReceiptOffThread(payload: ReceiptPayload): Promise<Uint8Array> {
  return typesetOffThread(receiptRequest(payload))
}

const PAID_WORDS: Record<PaymentKind, string> = {
  cash: 'Paid in cash',
  card: 'Paid by card',
  transfer: 'Paid by transfer',
  voucher: 'Paid by voucher',
  other: 'Paid otherwise',
}

function receiptRequest(payload: ReceiptPayload): TypesetRequest {
  const say = (minor: number) => writeMoney(minor, payload.currency, 'en')
  const { seller, buyer, certifiedNumber, soldBy, note } = payload
  const facts = [
    writeLongDay(payload.on),
    soldBy ? `Sold by ${soldBy}` : '',
    buyer ? `For ${buyer.name}` : '',
    ...(buyer?.address ? buyer.address.split('\n') : []),
    certifiedNumber ? `Receipt of the certified till: ${certifiedNumber}` : '',
  ]
  const data = {
    paper: payload.paper,
    ...displayable({
      title: `Receipt ${payload.receipt}`,
      seller: seller.name,
      contact: seller.contact.split('\n').filter(Boolean),
      facts: facts.filter(Boolean),
      lines: payload.lines.map((line) => lineContent(line, say)),
      totalWord: 'Total',
      total: say(payload.totalMinor),
      sums: sumsOf(payload, say),
      returns: payload.returns.map(({ returnNumber, on, refundMinor }) => ({
        words: `Return ${returnNumber}, ${writeLongDay(on)}`,
        amount: `−${say(refundMinor)}`,
      })),
      words: [...note.split('\n'), ...seller.words.split('\n')].filter(Boolean),
      caution: NO_CERTIFIED_TILL,
    }),
  }
  return { template: 'receipt/receipt.typ', data }
}

type Say = (minor: number) => string

function lineContent(line: ReceiptPayload['lines'][number], say: Say) {
  const { label, description, quantity, isCounted, unitPriceMinor, discountMinor, priceMinor, returned } =
    line
  const notes = [
    isCounted && quantity > 1 ? `${quantity} × ${say(unitPriceMinor)}` : '',
    discountMinor > 0 ? `less ${say(discountMinor)}` : '',
    returned > 0 ? `${returned === quantity ? 'all' : returned} came back` : '',
  ]
  return {
    code: label ? formatCode(label) : null,
    words: description,
    price: say(priceMinor),
    notes: notes.filter(Boolean),
  }
}

function sumsOf({ taxes, taxIncluded, payments }: ReceiptPayload, say: Say) {
  const change = payments.reduce(
    (sum, { amountMinor, givenMinor }) => sum + (givenMinor ?? amountMinor) - amountMinor,
    0,
  )
  return [
    ...taxes
      .filter(({ percent }) => percent > 0)
      .map(({ percent, netMinor, taxMinor }) => ({
        words: `${taxIncluded ? 'Includes' : 'With'} ${percent} % tax on ${say(netMinor)}`,
        amount: say(taxMinor),
      })),
    ...payments.map(({ kind, amountMinor, givenMinor }) => ({
      words:
        givenMinor !== null && givenMinor > amountMinor
          ? `In cash, ${say(givenMinor)} handed over`
          : PAID_WORDS[kind],
      amount: say(amountMinor),
    })),
    ...(change > 0 ? [{ words: 'Change', amount: say(change) }] : []),
  ]
}
