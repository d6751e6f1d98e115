import { describe, expect, it } from 'vitest'
import { countSoldIn, type KeptReceipt } from '@/components/stall/stall-store'
import { writeReceipt } from '@/components/stall/write-receipt'
import { type StallPart, stallReceiptSchema, stallSaleSchema } from '@/lib/features/stall/schema'

const ID = '0197c0de-0000-7000-8000-0000000000a'
const part: StallPart = {
  workspace: {
    ...{ id: `${ID}1`, slug: 'lane', name: 'Lane', contact: '', currency: 'EUR', timeZone: 'Europe/Berlin' },
  },
  person: { id: `${ID}2`, name: 'Owner' },
  box: { id: `${ID}3`, number: 1, name: 'Fair', packOn: '2026-03-18', returnOn: '2026-03-21' },
  part: { number: 1, series: 'S1A', device: `${ID}4`, lastNumber: 2 },
  terms: {
    ...{ pricesIncludeTax: true, receiptWords: '', certifiedTill: false },
    rates: [{ name: 'full', basisPoints: 1900, appliesTo: ['container'] }],
  },
  animals: [],
  items: [{ number: 1, kind: 'container', description: 'Cup 120 ml', priceMinor: 90, packed: 10, sold: 0 }],
}

function write(stock: unknown[], payments: unknown[] = [{ kind: 'cash' }]): KeptReceipt {
  const typed = stallSaleSchema.parse({ lines: [], stock, payments })
  const written = writeReceipt(typed, { part, id: `${ID}5`, on: '2026-03-18', now: new Date(0) })
  if (written.status !== 'written') throw new Error(written.message)
  return written.make(3)
}

describe('a receipt of a stall with things of the box', () => {
  const cups = { kind: 'container', item: 1, quantity: 4, price: 0.9, discount: 0.1 }
  const heat = { kind: 'other', description: 'Heat pack', quantity: 1, price: 2.5 }

  it('names them by their number in the box, with the rate of tax set for their kind, and prices them', () => {
    const { sent, totalMinor } = write([cups, heat])
    expect(totalMinor).toBe(4 * 90 - 10 + 250)
    expect(sent.goods).toEqual([
      {
        ...{ item: 1, quantity: 4, description: 'Cup 120 ml', unitPriceMinor: 90, discountMinor: 10 },
        taxBasisPoints: 1900,
      },
    ])
    expect(sent.others).toMatchObject([{ description: 'Heat pack', taxBasisPoints: 0 }])
    expect(stallReceiptSchema.safeParse(sent).success).toBe(true)
  })

  it('has to be paid like any other', () => {
    const typed = stallSaleSchema.parse({ lines: [], stock: [cups], payments: [{ kind: 'card', amount: 1 }] })
    expect(writeReceipt(typed, { part, id: `${ID}5`, on: '2026-03-18', now: new Date(0) })).toMatchObject({
      status: 'unpaid',
    })
  })

  it('counts what is sold on this device only after what the service had counted already', () => {
    const known = { ...write([cups]), sent: { ...write([cups]).sent, number: 2 } }
    expect(countSoldIn([known, write([cups])], part.part)).toEqual(new Map([[1, 4]]))
  })
})
