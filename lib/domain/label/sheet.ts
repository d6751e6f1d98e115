/**
 * Where labels stand on a sheet: a grid of equal labels, described by its measures in millimetres. A roll has one label
 * after the other and no sheet. The measures are those that sheets of labels are sold with.
 */
export type LabelSheet = {
  id: string
  paper: 'A4' | 'Letter' | 'Parcel'
  columns: number
  rows: number
  widthMm: number
  heightMm: number
  /** from the paper's edge to the first label */
  leftMm: number
  topMm: number
  /** between two labels */
  gapXMm: number
  gapYMm: number
}

const PAPERS = {
  A4: { widthMm: 210, heightMm: 297 },
  Letter: { widthMm: 215.9, heightMm: 279.4 },
  /** The large label of parcel printers, one on a page. */
  Parcel: { widthMm: 100, heightMm: 150 },
} as const

/** A sheet whose labels stand in the middle of the paper, gap by gap. */
function centred(
  paper: LabelSheet['paper'],
  [columns, rows]: [number, number],
  size: { widthMm: number; heightMm: number; gapXMm?: number; gapYMm?: number },
): LabelSheet {
  const { widthMm, heightMm, gapXMm = 0, gapYMm = 0 } = size
  const on = PAPERS[paper]
  return {
    id: `${paper.toLowerCase()}-${columns}x${rows}`,
    ...{ paper, columns, rows, widthMm, heightMm, gapXMm, gapYMm },
    leftMm: (on.widthMm - columns * widthMm - (columns - 1) * gapXMm) / 2,
    topMm: (on.heightMm - rows * heightMm - (rows - 1) * gapYMm) / 2,
  }
}

export const LABEL_SHEETS: readonly LabelSheet[] = [
  centred('A4', [3, 7], { widthMm: 63.5, heightMm: 38.1, gapXMm: 2.5 }),
  centred('A4', [3, 8], { widthMm: 70, heightMm: 36 }),
  centred('A4', [2, 7], { widthMm: 99.1, heightMm: 38.1, gapXMm: 2.5 }),
  centred('A4', [4, 10], { widthMm: 48.5, heightMm: 25.4 }),
  centred('Letter', [3, 10], { widthMm: 66.7, heightMm: 25.4, gapXMm: 3.2 }),
  centred('Letter', [2, 7], { widthMm: 101.6, heightMm: 33.9, gapXMm: 4.8 }),
  centred('Parcel', [1, 1], { widthMm: 100, heightMm: 150 }),
]

export const ROLL = 'roll'
export const LABEL_LAYOUTS = [ROLL, ...LABEL_SHEETS.map(({ id }) => id)] as const

export function getLabelSheet(id: string): LabelSheet | undefined {
  return LABEL_SHEETS.find((sheet) => sheet.id === id)
}

export function paperOf({ paper }: LabelSheet): { widthMm: number; heightMm: number } {
  return PAPERS[paper]
}

export function placesOn({ columns, rows }: LabelSheet): number {
  return columns * rows
}

/** "A4, 3 × 7 labels of 63.5 × 38.1 mm", or the roll. */
export function sayLayout(id: string): string {
  const sheet = getLabelSheet(id)
  if (!sheet) return 'Roll, 62 × 29 mm'
  const { paper, columns, rows, widthMm, heightMm } = sheet
  if (paper === 'Parcel') return `Parcel roll, ${widthMm} × ${heightMm} mm`
  return `${paper}, ${columns} × ${rows} labels of ${widthMm} × ${heightMm} mm`
}

export type LabelPlace = { page: number; leftMm: number; topMm: number }

/**
 * Where each of so many labels is printed, row by row, beginning at a place of the first sheet (1 is its first), since
 * sheets are used up over several runs. O(count).
 */
export function labelPlaces(sheet: LabelSheet, run: { count: number; startAt: number }): LabelPlace[] {
  const places = placesOn(sheet)
  if (!Number.isInteger(run.startAt) || run.startAt < 1 || run.startAt > places)
    throw new RangeError(`a sheet of ${places} has no place ${run.startAt}`)
  return Array.from({ length: run.count }, (_, index) => {
    const place = run.startAt - 1 + index
    const onPage = place % places
    const column = onPage % sheet.columns
    const row = Math.floor(onPage / sheet.columns)
    return {
      page: Math.floor(place / places),
      leftMm: sheet.leftMm + column * (sheet.widthMm + sheet.gapXMm),
      topMm: sheet.topMm + row * (sheet.heightMm + sheet.gapYMm),
    }
  })
}
