/** A table as a file; the mark at the front makes spreadsheets read it as Unicode. */
export function csvResponse(text: string, name: string): Response {
  const safeName = name.replace(/[^\w.-]+/g, '-')
  return new Response(`\ufeff${text}`, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${safeName}"`,
      'cache-control': 'private, no-store',
    },
  })
}
