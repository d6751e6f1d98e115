import { endAnimal, writeAnimal } from './animal'
import { type Departure, groupByDay, writeSale } from './shop-counter'
import { requireSpeciesEntry, requireZoneEntry, type Workbook } from './workbook'

/** Writes the shop: it took a third of what the breeder sold, sold most of it on, and keeps the rest on its shelf. */
export function writeShop(book: Workbook, departures: Departure[], sellerId: string): void {
  const zone = requireZoneEntry(book, 'Shop shelf')
  const bought = departures.filter(({ day }) => day > -200 && book.stream.chance(0.34))
  const sold: Departure[] = []
  for (const { animal, day, whole } of bought) {
    const shopDay = day + 2
    if (shopDay >= 0 || (whole.deathDay !== null && whole.deathDay <= shopDay + 3)) continue
    const saleDay = drawShopSaleDay(book, shopDay)
    const endDay = saleDay ?? whole.deathDay
    const life = { ...whole, moults: whole.moults.filter((moult) => endDay === null || moult.day <= endDay) }
    const there = writeAnimal(book, {
      species: requireSpeciesEntry(book, animal.species.slug),
      zoneId: zone.id,
      clutchId: null,
      separationId: null,
      beginDay: shopDay,
      life,
      origin: 'bought',
      supplier: 'Larch Lane Mantids',
    })
    const end = saleDay === null ? null : { day: saleDay, to: 'sold' as const }
    const entryId = endAnimal(
      book,
      there,
      end ?? (whole.deathDay === null ? null : { day: whole.deathDay, to: 'dead' }),
    )
    if (end && entryId) sold.push({ animal: there, entryId, day: end.day, whole })
  }
  for (const basket of groupByDay(sold)) writeSale(book, basket, sellerId)
}

function drawShopSaleDay(book: Workbook, shopDay: number): number | null {
  const day = shopDay + 4 + Math.floor(book.stream.uniform() * 40)
  return day < 0 && book.stream.chance(0.8) ? day : null
}
