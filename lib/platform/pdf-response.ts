/** A PDF to be looked at or saved under a name that says what it is. */
export function pdfResponse({ bytes, name }: { bytes: Uint8Array; name: string }): Response {
  const safeName = name.replace(/[^\w.-]+/g, '-')
  return new Response(Buffer.from(bytes), {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${safeName}"`,
      'cache-control': 'private, no-store',
    },
  })
}
