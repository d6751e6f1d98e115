import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { LABEL_SHEETS, labelPlaces, paperOf, placesOn, sayLayout } from '@/lib/domain/label/sheet'

describe('sheets of labels', () => {
  it.each(LABEL_SHEETS)('$id keeps every label on the paper, none over another', (sheet) => {
    const paper = paperOf(sheet)
    const places = labelPlaces(sheet, { count: placesOn(sheet), startAt: 1 })
    expect(new Set(places.map(({ leftMm, topMm }) => `${leftMm} ${topMm}`)).size).toBe(placesOn(sheet))
    for (const { page, leftMm, topMm } of places) {
      expect(page).toBe(0)
      expect(leftMm).toBeGreaterThanOrEqual(0)
      expect(topMm).toBeGreaterThanOrEqual(0)
      expect(leftMm + sheet.widthMm).toBeLessThanOrEqual(paper.widthMm + 1e-9)
      expect(topMm + sheet.heightMm).toBeLessThanOrEqual(paper.heightMm + 1e-9)
    }
  })

  it('begin at the first free label and go on with the next sheet', () => {
    const [sheet] = LABEL_SHEETS
    if (!sheet) throw new Error('there is a sheet')
    const places = labelPlaces(sheet, { count: 3, startAt: 20 })
    expect(places.map(({ page }) => page)).toEqual([0, 0, 1])
    expect(places[2]).toEqual({ page: 1, leftMm: sheet.leftMm, topMm: sheet.topMm })
    expect(places[0]?.leftMm).toBeCloseTo(7.25 + 66, 5)
    expect(() => labelPlaces(sheet, { count: 1, startAt: 22 })).toThrow(RangeError)
    expect(sayLayout(sheet.id)).toBe('A4, 3 × 7 labels of 63.5 × 38.1 mm')
    expect(sayLayout('roll')).toBe('Roll, 62 × 29 mm')
    expect(sayLayout('parcel-1x1')).toBe('Parcel roll, 100 × 150 mm')
  })

  it('take as many pages as it needs, wherever they begin', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...LABEL_SHEETS),
        fc.integer({ min: 1, max: 150 }),
        fc.nat(),
        (sheet, count, any) => {
          const startAt = 1 + (any % placesOn(sheet))
          const last = labelPlaces(sheet, { count, startAt }).at(-1)
          expect(last?.page).toBe(Math.ceil((startAt - 1 + count) / placesOn(sheet)) - 1)
        },
      ),
    )
  })
})
