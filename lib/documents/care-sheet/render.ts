import { displayable } from '../displayable'
import { qrSvg } from '../qr'
import { type TypesetRequest, typeset } from '../typeset.mjs'
import { typesetOffThread } from '../typeset-process'
import { sheetContent } from './content'
import type { CareSheetPayload } from './payload'

/** One animal's care sheet as a PDF of one page. Synchronous, 20–60 ms: for tests and for jobs. */
export function renderCareSheet(payload: CareSheetPayload): Uint8Array {
  return renderCareSheets([payload])
}

/** Several sheets in one file, a page each, in the order given; the document speaks the first one's language. */
export function renderCareSheets(payloads: CareSheetPayload[]): Uint8Array {
  return typeset(careSheetRequest(payloads))
}

/** The same away from the request thread: what a page, a route and a batch use. */
export function renderCareSheetsOffThread(payloads: CareSheetPayload[]): Promise<Uint8Array> {
  return typesetOffThread(careSheetRequest(payloads))
}

function careSheetRequest(payloads: CareSheetPayload[]): TypesetRequest {
  if (payloads.length === 0) throw new RangeError('a file of care sheets needs at least one animal')
  const { sheets, pictures } = careSheetContents(payloads)
  return { template: 'care-sheet/sheet.typ', data: { sheets }, pictures }
}

/** What the template sets for each of them, with the pictures it asks for. */
export function careSheetContents(payloads: readonly CareSheetPayload[]) {
  const pictures: NonNullable<TypesetRequest['pictures']> = []
  const sheets = payloads.map((payload, index) => {
    const photo = payload.animal.photo
    const name = photo ? `care-sheet/photo-${index}.${photo.kind}` : null
    if (photo && name) pictures.push({ name, bytes: photo.bytes })
    const qr = payload.publicPageUrl ? qrSvg(payload.publicPageUrl) : null
    return { ...displayable(sheetContent(payload)), photoPath: name ? `/${name}` : null, qr }
  })
  return { sheets, pictures }
}
