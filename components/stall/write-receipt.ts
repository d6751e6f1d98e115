import { minorAmount, writeMoney } from '@/lib/domain/money/money'
import { priceBasket } from '@/lib/domain/sale/basket'
import { type Settlement, sayUnsettled, settle } from '@/lib/domain/sale/payment'
import { proposedRate } from '@/lib/domain/sale/tax-rate'
import { basisPoints, isAnimalLine, readCounterSale } from '@/lib/features/sale/schema'
import {
  STALL_VERSION,
  type StallAdvice,
  type StallAnimal,
  type StallGoods,
  type StallPart,
  type StallReceiptSent,
  type StallSale,
} from '@/lib/features/stall/schema'
import type { KeptReceipt } from './stall-store'

export type Written =
  | { status: 'written'; make: (number: number) => KeptReceipt }
  | { status: 'unpaid'; message: string }

type Writing = { part: StallPart; id: string; on: string; now: Date }

/**
 * What was typed as a receipt that only waits for its number. Priced with the same arithmetic as at the counter, and with
 * the rates this device was given, so that the paper and the books say the same.
 */
export function writeReceipt(typed: StallSale, { part: kept, id, on, now }: Writing): Written {
  const { workspace, part, box, terms, person } = kept
  const { currency } = workspace
  const { buyerName, buyerAddress, keepConsent, stock, ...counter } = typed
  const others = stock.flatMap((line) => (line.kind === 'other' ? [line] : []))
  const sale = readCounterSale({ ...counter, stock: others }, { today: on, currency })
  const priced = sale.lines.map((line) => ({
    line,
    terms: {
      unitPriceMinor: line.unitPriceMinor,
      discountMinor: line.discountMinor,
      taxBasisPoints: line.taxBasisPoints ?? proposedRate(terms.rates, line.kind),
    },
    quantity: line.kind === 'other' ? line.quantity : 1,
  }))
  const goods = stock.flatMap((line) => (line.kind === 'other' ? [] : [goodsLine(line, kept)]))
  const basket = priceBasket(
    [...priced.map(({ terms: each, quantity }) => ({ ...each, quantity })), ...goods],
    { pricesIncludeTax: terms.pricesIncludeTax, discountMinor: sale.discountMinor },
  )
  const settled = settle(basket.totalMinor, sale.payments)
  const say = (minor: number) => writeMoney(minor, currency, 'en')
  const message = sayUnsettled(settled, { totalMinor: basket.totalMinor, say })
  if (message !== null) return { status: 'unpaid', message }
  const known = new Map(kept.animals.map((animal) => [animal.id, animal]))
  const receipt: Omit<StallReceiptSent, 'number'> = {
    ...{ id, workspaceId: workspace.id, personId: person.id, box: box.id },
    ...{ part: part.number, series: part.series, device: part.device, on, writtenAt: now.toISOString() },
    ...{ currency, taxIncluded: terms.pricesIncludeTax, discountMinor: sale.discountMinor },
    animals: priced.flatMap(({ line, terms: each }) => {
      if (!isAnimalLine(line)) return []
      const { individual, overrideReason } = line
      const animal = known.get(individual)
      const description = `${animal?.label ?? ''} ${animal?.description ?? ''}`.trim()
      const against = adviceOn(animal, on)?.codes ?? []
      return [{ individual, description, overrideReason, against, ...each }]
    }),
    goods,
    others: priced.flatMap(({ line, terms: each }) =>
      line.kind === 'other' ? [{ description: line.description, quantity: line.quantity, ...each }] : [],
    ),
    ...{ payments: sale.payments, certifiedNumber: sale.certifiedNumber, note: sale.note },
    buyer: buyerName === '' ? null : { name: buyerName, address: buyerAddress, keepConsent },
    v: STALL_VERSION,
  }
  return {
    status: 'written',
    make: (number) => ({
      sent: { ...receipt, number },
      totalMinor: basket.totalMinor,
      changeMinor: changeOf(settled),
      labels: receipt.animals.map(({ individual }) => known.get(individual)?.label ?? ''),
      state: 'waiting',
    }),
  }
}

/** What was worked out for this day, or for the last day that was asked about. */
export function adviceOn(animal: StallAnimal | undefined, on: string): StallAdvice | undefined {
  return animal?.advice.findLast((day) => day.on <= on) ?? animal?.advice[0]
}

/** As the counter reads its lines: prices as they are spoken, and the rate of tax set for the kind. */
function goodsLine({ kind, item, quantity, price, discount, taxPercent }: StallGoods, kept: StallPart) {
  const { workspace, terms, items = [] } = kept
  const minor = (amount: number) => minorAmount(amount, workspace.currency)
  return {
    ...{ item, quantity },
    description: items.find(({ number }) => number === item)?.description ?? kind,
    unitPriceMinor: minor(price),
    discountMinor: minor(discount ?? 0),
    taxBasisPoints: basisPoints(taxPercent) ?? proposedRate(terms.rates, kind),
  }
}

function changeOf(settled: Settlement): number {
  return settled.status === 'settled' ? settled.changeMinor : 0
}
