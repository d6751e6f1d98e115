import type { Animal } from './animal'
import type { DrawnLife } from './growth'
import { PRICE_MINOR_BY_SPECIES } from './scenario'
import { stamp, type Workbook } from './workbook'

/** An animal that left by a sale: its ledger entry, the day, and the life it goes on to live elsewhere. */
export type Departure = { animal: Animal; entryId: string; day: number; whole: DrawnLife }

/** One receipt for everything that went on a day. */
export function writeSale(book: Workbook, basket: Departure[], sellerId: string): void {
  const day = basket[0]?.day ?? 0
  const sale = stamp(book, day)
  const lines = basket.map(({ animal, entryId }, index) => ({
    workspaceId: book.workspaceId,
    saleId: sale.id,
    number: index + 1,
    individualId: animal.id,
    entryId,
    description: `${animal.species.scientificName}, ${animal.label}`,
    unitPriceMinor: PRICE_MINOR_BY_SPECIES[animal.species.slug] ?? 1000,
    priceMinor: PRICE_MINOR_BY_SPECIES[animal.species.slug] ?? 1000,
    warnings: [],
  }))
  book.rows.sale.push({
    ...sale,
    receiptNumber: ++book.numbers.receipt,
    on: book.dateOf(day),
    currency: 'EUR',
    totalMinor: lines.reduce((total, line) => total + line.priceMinor, 0),
    soldBy: sellerId,
  })
  book.rows.saleLine.push(...lines)
}

/** The departures of each day, oldest day first: one receipt each. */
export function groupByDay(departures: Departure[]): Departure[][] {
  const byDay = new Map<number, Departure[]>()
  for (const departure of departures.toSorted((a, b) => a.day - b.day))
    byDay.set(departure.day, [...(byDay.get(departure.day) ?? []), departure])
  return [...byDay.values()]
}
