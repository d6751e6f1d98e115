import sharp from 'sharp'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/**
 * Pictures that people send in. Each is made anew from its pixels before it is kept, so that nothing but a picture is
 * ever stored or handed out: no place where it was taken, no second file hidden behind it. They are rows like any
 * other record, so that backup, export and the locks between workspaces hold for them as they are.
 */
export type RemadePicture = { full: Uint8Array<ArrayBuffer>; small: Uint8Array<ArrayBuffer> } & PictureSize
export type PictureSize = { widthPx: number; heightPx: number }

/** What a sender may take up: 40 megapixels is more than a phone's picture, and 160 MB while it is worked on. */
const MOST_PIXELS = 40_000_000
const FULL = { sidePx: 1600, bytes: 1_048_576 }
const SMALL = { sidePx: 640, bytes: 262_144 }
const QUALITIES = [84, 72, 58, 42]

sharp.cache(false)
sharp.concurrency(1)

/** @throws AppError invalid at the field `picture` for anything that is no whole JPEG, PNG or WebP picture */
export async function remakePicture(sent: Uint8Array): Promise<RemadePicture> {
  if (!readKind(sent)) throw refuseField('picture', 'This is no JPEG, PNG or WebP picture.')
  try {
    const full = await asJpeg(sent, FULL)
    const small = await asJpeg(full.bytes, SMALL)
    return { full: full.bytes, small: small.bytes, widthPx: full.widthPx, heightPx: full.heightPx }
  } catch (error) {
    if (error instanceof Error && /pixel limit/i.test(error.message))
      throw refuseField('picture', 'This picture has more than 40 million points. Send a smaller one.')
    throw refuseField('picture', 'This picture is damaged and cannot be read.')
  }
}

/** By the first bytes, whatever its name says. */
export function readKind(bytes: Uint8Array): 'jpeg' | 'png' | 'webp' | null {
  const head = Buffer.from(bytes.subarray(0, 12))
  if (head.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff]))) return 'jpeg'
  if (head.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]))) return 'png'
  return head.toString('latin1', 0, 4) === 'RIFF' && head.toString('latin1', 8, 12) === 'WEBP' ? 'webp' : null
}

type Limits = { sidePx: number; bytes: number }

/** Upright, no larger than its limits, on white where it was clear; the first quality that fits. */
async function asJpeg(
  sent: Uint8Array,
  limits: Limits,
): Promise<{ bytes: Uint8Array<ArrayBuffer> } & PictureSize> {
  for (const quality of QUALITIES) {
    const { data, info } = await sharp(sent, { limitInputPixels: MOST_PIXELS, failOn: 'error' })
      .rotate()
      .resize({ width: limits.sidePx, height: limits.sidePx, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality })
      .toBuffer({ resolveWithObject: true })
    if (data.byteLength <= limits.bytes)
      return { bytes: new Uint8Array(data), widthPx: info.width, heightPx: info.height }
  }
  throw refuseField('picture', 'This picture cannot be made small enough.')
}

export type PictureKey = { workspaceId: WorkspaceId; photoId: string }

/** Keeps a remade picture, in the transaction of the record that it belongs to. */
export async function keepPicture(
  tx: Tx,
  { workspaceId, photoId }: PictureKey,
  { full, small }: RemadePicture,
): Promise<void> {
  await tx.photoContent.create({ data: { workspaceId, photoId, full, small } })
}

/** The pictures of these photos, the whole one or the one for paper. Missing ones are missing. */
export async function readPictures(
  tx: Tx,
  { workspaceId, photoIds }: { workspaceId: WorkspaceId; photoIds: readonly string[] },
  size: 'full' | 'small',
): Promise<Map<string, Uint8Array>> {
  const select = size === 'full' ? { photoId: true, full: true } : { photoId: true, small: true }
  const rows = await tx.photoContent.findMany({
    where: { workspaceId, photoId: { in: [...photoIds] } },
    select,
  })
  return new Map(rows.flatMap((row) => [[row.photoId, row[size]]]))
}
