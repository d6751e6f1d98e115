import { inTurn } from '@/lib/platform/in-turn'

export type PdfFile = { bytes: Uint8Array; name: string }

/** A PDF to be looked at or saved under a name that says what it is. */
export function pdfResponse({ bytes, name }: PdfFile): Response {
  const safeName = name.replace(/[^\w.-]+/g, '-')
  return new Response(Buffer.from(bytes), {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${safeName}"`,
      'cache-control': 'private, no-store',
    },
  })
}

/** The same for one that is yet to be drawn, which waits for what its workspace is having drawn already. */
export async function pdfInTurn(workspace: string, draw: () => Promise<PdfFile>): Promise<Response> {
  return pdfResponse(await inTurn(workspace, draw))
}
