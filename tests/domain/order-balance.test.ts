import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { balanceOf, type PaymentEntry, takeFromPayments, totalOfOrder } from '@/lib/domain/order/balance'

const paid = (amountMinor: number, on = '2026-03-02'): PaymentEntry => ({
  ...{ on, amountMinor, reverses: null, isWaived: false },
})
const back = (amountMinor: number, isWaived = false): PaymentEntry => ({
  ...{ on: '2026-03-09', amountMinor, reverses: 1, isWaived },
})

describe('what an order comes to', () => {
  const parts = [
    { kind: 'animal', quantity: 2, unitPriceMinor: 1400 },
    { kind: 'other', quantity: 1, unitPriceMinor: 690 },
  ]
  const rates = [{ basisPoints: 1900, appliesTo: ['other'] }]

  it('is its prices where they have their tax in them, and with the tax on top where not', () => {
    expect(totalOfOrder(parts, { pricesIncludeTax: true, rates })).toBe(3490)
    expect(totalOfOrder(parts, { pricesIncludeTax: false, rates })).toBe(3490 + 131)
  })
})

describe('what is still owed', () => {
  it('falls with each payment, and the last one says since when nothing is', () => {
    expect(balanceOf(3490, [])).toMatchObject({ owedMinor: 3490, paidInFullOn: null })
    expect(balanceOf(3490, [paid(1000)])).toMatchObject({
      paidMinor: 1000,
      owedMinor: 2490,
      paidInFullOn: null,
    })
    const whole = balanceOf(3490, [paid(2490, '2026-03-05'), paid(1000)])
    expect(whole).toMatchObject({ owedMinor: 0, overMinor: 0, paidInFullOn: '2026-03-05' })
  })

  it('rises with money that went back, unless it was waived', () => {
    expect(balanceOf(3490, [paid(3490), back(1400)])).toMatchObject({ owedMinor: 1400, paidInFullOn: null })
    const waived = balanceOf(3490, [paid(3490), back(1400, true)])
    expect(waived).toMatchObject({ dueMinor: 2090, owedMinor: 0, overMinor: 0, paidInFullOn: '2026-03-02' })
  })

  it('is nothing for what came back, and what was paid for it is to be given back until it is', () => {
    const cameBack = { worthMinor: 1400, moneyMinor: 0 }
    expect(balanceOf(3490, [paid(3490)], cameBack)).toMatchObject({ owedMinor: 0, overMinor: 1400 })
    expect(balanceOf(3490, [paid(3490)], { ...cameBack, moneyMinor: 1400 })).toMatchObject({ overMinor: 0 })
  })

  it('and what is over never stand side by side, whatever was paid and went back', () => {
    const amounts = fc.array(fc.integer({ min: 1, max: 5000 }), { maxLength: 6 })
    fc.assert(
      fc.property(fc.nat(9000), amounts, amounts, (total, payments, reversals) => {
        const balance = balanceOf(total, [
          ...payments.map((each) => paid(each)),
          ...reversals.map((each) => back(each)),
        ])
        expect(Math.min(balance.owedMinor, balance.overMinor)).toBe(0)
        expect(balance.owedMinor - balance.overMinor).toBe(balance.dueMinor - balance.paidMinor)
      }),
    )
  })
})

describe('money that is moved to another order', () => {
  it('is taken from the last payments first, and never more than is left of one', () => {
    const payments = [
      { number: 1, amountMinor: 2000, returnedMinor: 0 },
      { number: 3, amountMinor: 500, returnedMinor: 200 },
    ]
    expect(takeFromPayments(payments, 1000)).toEqual([
      { number: 3, amountMinor: 300 },
      { number: 1, amountMinor: 700 },
    ])
    expect(takeFromPayments(payments, 0)).toEqual([])
  })
})
