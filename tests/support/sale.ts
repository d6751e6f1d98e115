import type { AnimalLine, NewSale, NewSaleLine } from '@/lib/features/sale/schema'

/** A sale of today's shape with nothing special about it. */
export function plainSale(on: string, lines: NewSaleLine[], more: Partial<NewSale> = {}): NewSale {
  return { on, lines, note: '', buyer: null, discountMinor: 0, payments: [], certifiedNumber: '', ...more }
}

export function animalLine(
  individual: string,
  unitPriceMinor: number,
  more: Partial<AnimalLine> = {},
): AnimalLine {
  const terms = {
    unitPriceMinor,
    discountMinor: 0,
    taxBasisPoints: null,
    overrideReason: '',
    at: 'individuals.0',
  }
  return { kind: 'animal', individual, ...terms, ...more }
}
