import type { PlainDate } from '../calendar/date'
import { priceBasket } from '../sale/basket'
import { type ProposableRate, proposedRate } from '../sale/tax-rate'

/** So many of something, each for so much in the smallest coin. */
export type OrderedPart = { kind: string; quantity: number; unitPriceMinor: number }
export type OrderTerms = { pricesIncludeTax: boolean; rates: readonly ProposableRate[] }

/** What an order comes to, as its receipt would: with the tax that is set for each kind of thing. */
export function totalOfOrder(parts: readonly OrderedPart[], { pricesIncludeTax, rates }: OrderTerms): number {
  const lines = parts.map(({ kind, quantity, unitPriceMinor }) => ({
    ...{ quantity, unitPriceMinor, discountMinor: 0 },
    taxBasisPoints: proposedRate(rates, kind),
  }))
  return priceBasket(lines, { pricesIncludeTax, discountMinor: 0 }).totalMinor
}

/** A payment, or money that went back (`reverses`). Waived: so much less is owed since. */
export type PaymentEntry = {
  on: PlainDate
  amountMinor: number
  reverses: number | null
  isWaived: boolean
}

export type OrderBalance = {
  /** what the order comes to, less what was waived and what came back */
  dueMinor: number
  /** what was paid, less what went back */
  paidMinor: number
  owedMinor: number
  /** paid beyond what is due: to be given back */
  overMinor: number
  /** the day of the last payment, where nothing is owed any more and something was paid */
  paidInFullOn: PlainDate | null
}

/** Of what came back by a return of its receipt: what it was worth, and how much money went back for it. */
export type CameBack = { worthMinor: number; moneyMinor: number }

/** What is still owed for an order. An order that was taken back is due nothing. Amounts in the smallest coin. */
export function balanceOf(
  totalMinor: number,
  entries: readonly PaymentEntry[],
  { worthMinor, moneyMinor }: CameBack = { worthMinor: 0, moneyMinor: 0 },
): OrderBalance {
  const sum = (list: readonly PaymentEntry[]) => list.reduce((all, { amountMinor }) => all + amountMinor, 0)
  const payments = entries.filter(({ reverses }) => reverses === null)
  const reversals = entries.filter(({ reverses }) => reverses !== null)
  const dueMinor = Math.max(0, totalMinor - worthMinor - sum(reversals.filter(({ isWaived }) => isWaived)))
  const paidMinor = sum(payments) - sum(reversals) - moneyMinor
  const owedMinor = Math.max(0, dueMinor - paidMinor)
  const last = payments.map(({ on }) => on).sort()
  return {
    ...{ dueMinor, paidMinor, owedMinor },
    overMinor: Math.max(0, paidMinor - dueMinor),
    paidInFullOn: owedMinor === 0 ? (last.at(-1) ?? null) : null,
  }
}

/** A payment of which so much has gone back already. */
export type OpenPayment = { number: number; amountMinor: number; returnedMinor: number }

/** Which payments an amount is taken back from, the last one first; nothing is taken from what went back before. */
export function takeFromPayments(
  payments: readonly OpenPayment[],
  amountMinor: number,
): { number: number; amountMinor: number }[] {
  let left = amountMinor
  return payments
    .toSorted((a, b) => b.number - a.number)
    .flatMap(({ number, amountMinor: whole, returnedMinor }) => {
      const part = Math.min(left, whole - returnedMinor)
      left -= part
      return part > 0 ? [{ number, amountMinor: part }] : []
    })
}
