import type { Place, Stock } from './stock'
import { idOf } from './stock-id'

/** Who buys, and how this workspace sells. */
export async function placeBuyer(place: Place, { mark }: Stock): Promise<void> {
  const buyer_id = await place('buyer', { country: 'DE', changed_fields: ['name'] })
  const texts = { name: mark, email: `${mark}@example.test`, phone: mark, address: mark, note: mark }
  await place('buyer_person', { buyer_id, ...texts })
  await place('till', { receipt_words: mark })
  await place('tax_rate', { name: mark, basis_points: 1900, applies_to: '{animal}' })
}

/** What goes with an order besides animals, a payment for it, and a part of that which went back. */
export async function placeOrderGoods(
  place: Place,
  { mark, personId }: Stock,
  order_id: string,
): Promise<void> {
  const thing = { kind: 'other', quantity: 1, description: mark, price_minor: 250 }
  await place('order_stock_line', { order_id, number: 1, ...thing })
  const paid = { order_id, kind: 'card', on: '2026-03-11', note: mark, taken_by: personId }
  await place('order_payment', { ...paid, number: 1, amount_minor: 1250 })
  await place('order_payment', { ...paid, number: 2, amount_minor: 250, reverses: 1 })
}

/** An offer that was taken, and what an animal here was taken over with. */
export async function placeHandOver(place: Place, stock: Stock): Promise<void> {
  const { mark, personId, gone } = stock
  const hand_over_id = await place('hand_over', {
    ...{ to_name: mark, note: mark, offered_on: '2026-03-10', made_by: personId },
  })
  const individual_id = idOf(stock, 'individual')
  await place('hand_over_animal', { hand_over_id, individual_id })
  await place('taken_over', {
    ...{ individual_id: gone, origin: DEVICE, number: 0, from_name: mark, record: { mark } },
  })
}

/** A paper that went with the animal of a receipt. */
async function placePaper(place: Place, stock: Stock): Promise<void> {
  const [individual_id, sale_id] = ['individual', 'sale'].map((each) => idOf(stock, each))
  const copied = { kind: 'permit', number: stock.mark, dated_on: '2026-03-01', recorded_by: stock.personId }
  await place('paper', { ...copied, individual_id, sale_id })
}

/** Somebody let an animal leave. */
async function placeClearance(place: Place, stock: Stock): Promise<void> {
  const said = { on: '2026-03-20', codes: '{quarantine}', reason: stock.mark, given_by: stock.personId }
  await place('clearance', { ...said, individual_id: idOf(stock, 'individual') })
}

/** A box with a part that a device has taken, and an animal in it. */
export async function placeShowBox(place: Place, stock: Stock): Promise<void> {
  const days = { pack_on: '2026-03-18', return_on: '2026-03-21' }
  const made = { number: 1, name: stock.mark, languages: '{en}', made_by: stock.personId }
  const box_id = await place('show_box', { ...days, ...made })
  const taken = { device: DEVICE, taken_by: stock.personId, taken_at: '2026-03-18T08:00:00Z' }
  await place('show_box_part', { box_id, number: 2, series: 'S1B', ...taken })
  await place('show_box_part', { box_id, number: 1, series: 'S1A', ...taken })
  const individual_id = idOf(stock, 'individual')
  await place('show_box_animal', { box_id, part_number: 1, individual_id })
  const thing = {
    kind: 'container',
    container_kind_id: idOf(stock, 'container_kind'),
    description: stock.mark,
  }
  await place('show_box_item', { box_id, number: 1, part_number: 1, ...thing, price_minor: 90, packed: 6 })
}
export const DEVICE = '0197c0de-0000-7000-8000-0000000000d1'

/** A hold that was let go, a wish that waits, and a list of prices. */
export async function placeHolds(place: Place, stock: Stock): Promise<void> {
  const [buyer_id, individual_id, species_id] = ['buyer', 'individual', 'species'].map((each) =>
    idOf(stock, each),
  )
  const made = { buyer_id, made_on: '2026-03-15' }
  const over = { until_on: '2026-03-18', ended_on: '2026-03-17', end: 'released' }
  await place('reservation', { ...made, ...over, individual_id, made_by: stock.personId })
  await place('wish', { ...made, species_id, sex: 'female', moults: 3, count: 2, by_on: '2099-02-01' })
  const list_id = await place('price_list', { name: stock.mark, proposed: true })
  const price = { key: `animal|${species_id}|3|female`, kind: 'animal', species_id, moults: 3, sex: 'female' }
  await place('price_entry', { list_id, ...price, price_minor: 1800 })
  await placePaper(place, stock)
  await placeClearance(place, stock)
}
