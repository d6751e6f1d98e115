/** What one call of the service takes, with room for the rest of it. */
const MOST_BYTES = 690_000
const SIDES_PX = [1600, 1280, 960, 640]

/**
 * A picture small enough to send, as JPEG in base64: a phone's is many times larger than any sheet needs, and a room
 * of insects has a poor connection. Null for what the browser cannot read as a picture.
 */
export async function shrinkPicture(file: Blob): Promise<string | null> {
  const [read] = await Promise.allSettled([createImageBitmap(file)])
  if (read.status === 'rejected') return null
  const bitmap = read.value
  for (const sidePx of SIDES_PX) {
    const blob = await drawAtMost(bitmap, sidePx)
    if (blob && blob.size <= MOST_BYTES) return toBase64(blob)
  }
  return null
}

function drawAtMost(bitmap: ImageBitmap, sidePx: number): Promise<Blob | null> {
  const scale = Math.min(1, sidePx / Math.max(bitmap.width, bitmap.height))
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(bitmap.width * scale))
  canvas.height = Math.max(1, Math.round(bitmap.height * scale))
  const context = canvas.getContext('2d')
  if (!context) return Promise.resolve(null)
  context.fillStyle = '#fff'
  context.fillRect(0, 0, canvas.width, canvas.height)
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height)
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.85))
}

async function toBase64(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer())
  let text = ''
  for (let at = 0; at < bytes.length; at += 8_192)
    text += String.fromCharCode(...bytes.subarray(at, at + 8_192))
  return btoa(text)
}
