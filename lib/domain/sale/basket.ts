import { partOf, shareOut } from '../money/share'

/** A line as it is priced: money in the smallest coin, tax in hundredths of a per cent (1900 is 19 %). */
export type BasketLine = {
  quantity: number
  unitPriceMinor: number
  discountMinor: number
  taxBasisPoints: number
}

export type PricedLine = {
  /** own discount and the line's share of that of the whole basket */
  discountMinor: number
  /** as priced, less discounts: with its tax in it or not, as the prices are */
  priceMinor: number
  taxMinor: number
  /** what is paid for it */
  grossMinor: number
}
export type RateSum = { taxBasisPoints: number; netMinor: number; taxMinor: number; grossMinor: number }
export type PricedBasket = {
  lines: PricedLine[]
  /** by rate, lowest first */
  rates: RateSum[]
  discountMinor: number
  taxMinor: number
  totalMinor: number
}

export type BasketTerms = { pricesIncludeTax: boolean; discountMinor: number }

const WHOLE = 10_000

/**
 * What a basket comes to. A discount on the whole is shared over the lines by what they cost, so that each rate of tax
 * bears its part. Tax is rounded once for each rate on the sum of its lines, half up to the smallest coin, and then
 * dealt out to them, so that lines, rates and total agree to the coin. O(n log n).
 */
export function priceBasket(lines: readonly BasketLine[], terms: BasketTerms): PricedBasket {
  const before = lines.map(({ quantity, unitPriceMinor, discountMinor }) =>
    Math.max(0, quantity * unitPriceMinor - discountMinor),
  )
  const sum = before.reduce((total, price) => total + price, 0)
  const shares = shareOut(Math.min(terms.discountMinor, sum), before)
  const prices = before.map((price, index) => price - (shares[index] ?? 0))
  const taxes = taxLines(lines, { prices, ...terms })
  const priced = lines.map(({ quantity, unitPriceMinor }, index): PricedLine => {
    const [priceMinor = 0, taxMinor = 0] = [prices[index], taxes[index]]
    return {
      discountMinor: quantity * unitPriceMinor - priceMinor,
      priceMinor,
      taxMinor,
      grossMinor: terms.pricesIncludeTax ? priceMinor : priceMinor + taxMinor,
    }
  })
  return {
    lines: priced,
    rates: sumByRate(
      lines.map(({ taxBasisPoints }, index) => ({
        taxBasisPoints,
        taxMinor: priced[index]?.taxMinor ?? 0,
        grossMinor: priced[index]?.grossMinor ?? 0,
      })),
    ),
    discountMinor: total(priced, 'discountMinor'),
    taxMinor: total(priced, 'taxMinor'),
    totalMinor: total(priced, 'grossMinor'),
  }
}

type Taxing = BasketTerms & { prices: readonly number[] }

function taxLines(lines: readonly BasketLine[], { prices, pricesIncludeTax }: Taxing): number[] {
  const taxes = lines.map(() => 0)
  for (const rate of new Set(lines.map(({ taxBasisPoints }) => taxBasisPoints))) {
    const at = lines.flatMap(({ taxBasisPoints }, index) => (taxBasisPoints === rate ? [index] : []))
    const own = at.map((index) => prices[index] ?? 0)
    const sum = own.reduce((all, price) => all + price, 0)
    const tax = partOf(sum, { part: rate, of: pricesIncludeTax ? WHOLE + rate : WHOLE })
    shareOut(tax, own).forEach((share, index) => {
      taxes[at[index] ?? 0] = share
    })
  }
  return taxes
}

type Taxed = { taxBasisPoints: number; taxMinor: number; grossMinor: number }

/** What was paid, by rate of tax, lowest first. */
export function sumByRate(lines: readonly Taxed[]): RateSum[] {
  const rates = new Map<number, RateSum>()
  for (const { taxBasisPoints, taxMinor, grossMinor } of lines) {
    const sum = rates.get(taxBasisPoints) ?? { taxBasisPoints, netMinor: 0, taxMinor: 0, grossMinor: 0 }
    rates.set(taxBasisPoints, {
      taxBasisPoints,
      netMinor: sum.netMinor + grossMinor - taxMinor,
      taxMinor: sum.taxMinor + taxMinor,
      grossMinor: sum.grossMinor + grossMinor,
    })
  }
  return [...rates.values()].sort((a, b) => a.taxBasisPoints - b.taxBasisPoints)
}

function total(lines: readonly PricedLine[], field: 'discountMinor' | 'taxMinor' | 'grossMinor'): number {
  return lines.reduce((sum, line) => sum + line[field], 0)
}

export type SoldLine = { quantity: number; returned: number; grossMinor: number; taxMinor: number }

/** What comes back for so many more of a line; all returns of it together give exactly what was paid. */
export function refundOf(line: SoldLine, quantity: number): { refundMinor: number; taxMinor: number } {
  const part = (sum: number) =>
    partOf(sum, { part: line.returned + quantity, of: line.quantity }) -
    partOf(sum, { part: line.returned, of: line.quantity })
  // Net and tax are cut apart, so that a part never holds more tax than money, however small a piece is.
  const taxMinor = part(line.taxMinor)
  return { refundMinor: part(line.grossMinor - line.taxMinor) + taxMinor, taxMinor }
}
