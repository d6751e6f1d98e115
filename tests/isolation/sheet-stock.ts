import { randomUUID } from 'node:crypto'
import { publicTokenHash } from '@/lib/platform/public-link'
import type { Place, Row, Stock } from './stock'

/** Four by three points of red, as the service keeps pictures. */
const RED_PICTURE = Buffer.from(
  [
    '/9j/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNiUFVtVkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/',
    '2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wAAR',
    'CAADAAQDASIAAhEBAxEB/8QAFQABAQAAAAAAAAAAAAAAAAAAAAT/xAAUEAEAAAAAAAAAAAAAAAAAAAAA/8QAFQEBAQAAAAAA',
    'AAAAAAAAAAAABAX/xAAUEQEAAAAAAAAAAAAAAAAAAAAA/9oADAMBAAIRAxEAPwCMAVdf/9k=',
  ].join(''),
  'base64',
)

/** One page that says a word, as small as a PDF can be. */
function tinyPdf(word: string): Buffer {
  const shown = `BT /F1 12 Tf 10 20 Td (${word}) Tj ET`
  const objects = [
    '<</Type/Catalog/Pages 2 0 R>>',
    '<</Type/Pages/Kids[3 0 R]/Count 1>>',
    '<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 50]/Contents 4 0 R/Resources<</Font<</F1 5 0 R>>>>>>',
    `<</Length ${shown.length}>>stream\n${shown}\nendstream`,
    '<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>',
  ]
  let file = '%PDF-1.4\n'
  const places = objects.map((object, index) => {
    const place = file.length
    file += `${index + 1} 0 obj\n${object}\nendobj\n`
    return `${String(place).padStart(10, '0')} 00000 n \n`
  })
  const table = `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${places.join('')}`
  return Buffer.from(
    `${file}${table}trailer<</Size ${objects.length + 1}/Root 1 0 R>>\nstartxref\n${file.length}\n%%EOF\n`,
  )
}

/** What is printed of an animal alone, together with others and many at once; its page, and a photo. */
export async function placeSheets(
  place: Place,
  stock: Stock,
  { individual_id, species_id }: Row,
): Promise<void> {
  const created_by = stock.personId
  const id = randomUUID()
  const token_hash = Buffer.from(publicTokenHash({ id, generation: 1 }))
  // Under the id of its workspace, so that its address can be told.
  const list = { id: stock.workspaceId, for_sale: true }
  const listHash = Buffer.from(publicTokenHash({ ...list, generation: 1 }))
  await place('public_link', { ...list, token_hash: listHash })
  const public_link_id = await place('public_link', { id, individual_id, token_hash })
  const how = { language: 'en', paper: 'a4', printed_on: '2026-03-11', printed_by: created_by }
  const printed = { species_id, profile_number: 1, public_link_id, individual_id, ...how }
  await place('care_sheet', { ...printed, note: stock.mark })
  const lot_id = await place('sheet_lot', {})
  const batch_id = await place('sheet_batch', { language: 'en', paper: 'a4', total: 1, done: 1, created_by })
  await place('sheet_batch_file', { batch_id, number: 1, sheets: 1, bytes: tinyPdf(stock.mark) })
  await place('care_sheet', { ...printed, lot_id, batch_id, note: stock.mark })
  const size = { width_px: 4, height_px: 3, on_sheet: true }
  const photo_id = await place('photo', { individual_id, ...size, added_by: stock.personId })
  await place('photo_content', { photo_id, full: RED_PICTURE, small: RED_PICTURE })
}
