/** A receipt within its series; the counter's own series has no name. */
export type ReceiptNumber = { series: string; receiptNumber: number }

/** "207" at the counter, "S3A-12" from a device at a show. */
export function writeReceiptNumber({ series, receiptNumber }: ReceiptNumber): string {
  return series === '' ? String(receiptNumber) : `${series}-${receiptNumber}`
}

/** The series of one part of a show box: "S3A" for the first part of box 3. */
export function seriesOfPart(box: number, part: number): string {
  return `S${box}${String.fromCharCode(64 + part)}`
}
