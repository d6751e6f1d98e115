/**
 * Keeping of the nineteen species (defaults of the trade, no citation). Siblings apart at a moult number,
 * or a colony where space, food and equal size allow. Lengths: hatchling, adult male, adult female, in mm.
 */
export type KeepingRow = {
  scientificName: string
  apartAt: number | 'colony'
  lengthMm: [number, number, number]
  dayC: [number, number]
  hotSpotC?: number
  nightC: number
  humidityPct: [number, number]
  maleWeeks: [number, number]
  femaleWeeks: [number, number]
  origin: 'temperate' | 'tropical'
  region: string
}

export const KEEPING_ROWS: readonly KeepingRow[] = [
  row(
    'Tenodera sinensis',
    [2, [10, 85, 105], [23, 28], 16, [50, 60], [6, 12], [12, 22]],
    'East Asia',
    'temperate',
  ),
  row(
    'Mantis religiosa',
    [1, [6, 60, 75], [24, 30], 15, [40, 60], [5, 10], [10, 20]],
    'Europe, Asia and Africa',
    'temperate',
  ),
  row(
    'Stagmomantis spp.',
    [2, [7, 54, 55], [24, 30], 15, [40, 60], [5, 10], [12, 22]],
    'the Americas',
    'temperate',
  ),
  row('Sphodromantis spp.', [1, [5, 65, 75], [24, 30], 18, [50, 60], [10, 18], [18, 35]], 'Africa'),
  row(
    'Hierodula spp.',
    [1, [6.5, 70, 85], [24, 30], 18, [55, 70], [8, 16], [16, 32]],
    'South and South-East Asia',
  ),
  row(
    'Hymenopus coronatus',
    [2, [5.5, 28, 60], [25, 30], 20, [60, 80], [4, 10], [16, 34]],
    'South-East Asia',
  ),
  row(
    'Creobroter spp.',
    [2, [4, 30, 38], [24, 29], 19, [60, 70], [4, 9], [10, 20]],
    'South and South-East Asia',
  ),
  row('Pseudocreobotra spp.', [2, [4.5, 28, 38], [25, 30], 20, [50, 60], [5, 10], [12, 22]], 'Africa'),
  row('Parasphendale spp.', [1, [5, 40, 70], [24, 30], 18, [40, 60], [6, 12], [16, 30]], 'East Africa'),
  row(
    'Phyllocrania paradoxa',
    ['colony', [7, 45, 50], [22, 28], 18, [50, 70], [6, 12], [18, 30]],
    'Africa and Madagascar',
  ),
  row('Deroplatys lobata', [3, [14, 45, 68], [24, 28], 18, [60, 80], [8, 16], [18, 36]], 'South-East Asia'),
  row(
    'Deroplatys desiccata',
    [3, [15, 68, 82], [24, 28], 18, [60, 80], [8, 16], [18, 36]],
    'South-East Asia',
  ),
  row(
    'Idolomantis diabolica',
    ['colony', [14, 100, 130], [29, 35], 18, [45, 65], [6, 12], [10, 20]],
    'East Africa',
  ),
  {
    ...row(
      'Gongylus gongylodes',
      ['colony', [13, 75, 85], [30, 36], 22, [40, 55], [8, 14], [14, 26]],
      'South Asia',
    ),
    hotSpotC: 40,
  },
  row(
    'Blepharopsis mendica',
    [4, [9, 50, 58], [28, 36], 18, [30, 50], [8, 14], [14, 26]],
    'North Africa and the Middle East',
  ),
  row('Popa spurca', [3, [8, 60, 75], [24, 30], 18, [40, 60], [10, 16], [18, 32]], 'Africa'),
  row('Miomantis spp.', [1, [5, 35, 45], [22, 28], 16, [50, 60], [5, 9], [12, 22]], 'Africa'),
  row(
    'Iris oratoria',
    [1, [5, 40, 45], [25, 32], 16, [40, 50], [6, 10], [12, 20]],
    'the Mediterranean',
    'temperate',
  ),
  row('Rhombodera spp.', [1, [7, 75, 90], [24, 29], 20, [60, 75], [10, 18], [20, 36]], 'South-East Asia'),
]

type Cells = [
  apartAt: number | 'colony',
  lengthMm: [number, number, number],
  dayC: [number, number],
  nightC: number,
  humidityPct: [number, number],
  maleWeeks: [number, number],
  femaleWeeks: [number, number],
]

/** Cells in the order of the trade's table: apart at, length, day, night, humidity, adult life male, female. */
function row(
  ...[scientificName, cells, region, origin]: [string, Cells, string, ('temperate' | 'tropical')?]
): KeepingRow {
  const [apartAt, lengthMm, dayC, nightC, humidityPct, maleWeeks, femaleWeeks] = cells
  return {
    scientificName,
    apartAt,
    lengthMm,
    dayC,
    nightC,
    humidityPct,
    maleWeeks,
    femaleWeeks,
    origin: origin ?? 'tropical',
    region,
  }
}
