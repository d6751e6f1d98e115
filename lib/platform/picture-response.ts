/** A picture that was made anew when it arrived, and so is always a JPEG. */
export function pictureResponse(bytes: Uint8Array): Response {
  return new Response(Buffer.from(bytes), {
    headers: {
      'content-type': 'image/jpeg',
      'content-disposition': 'inline',
      'cache-control': 'private, no-store',
    },
  })
}
