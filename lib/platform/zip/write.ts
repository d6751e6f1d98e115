import { once } from 'node:events'
import type { Writable } from 'node:stream'
import { crc32, createDeflateRaw } from 'node:zlib'

/** Above this the plain format cannot say how long a file is. */
const LARGEST_BYTES = 0xffff_ffff
const DEFLATED = 8
/** The sizes follow the file, and names are UTF-8. */
const FLAGS = 0x0808
const VERSION = 20

type Written = { name: Buffer; offset: number; crc: number; packed: number; size: number }

/** A zip archive that is written while its files are still being read. */
export type ZipWriter = {
  addFile(name: string, pieces: AsyncIterable<Buffer>): Promise<void>
  finish(): Promise<void>
}

export function createZip(out: Writable): ZipWriter {
  const files: Written[] = []
  let offset = 0
  const gone = new AbortController()
  out.once('close', () => gone.abort())
  const put = async (bytes: Buffer) => {
    offset += bytes.length
    if (offset > LARGEST_BYTES) throw new Error('the archive is larger than 4 GB')
    gone.signal.throwIfAborted()
    if (!out.write(bytes)) await once(out, 'drain', { signal: gone.signal })
  }
  return {
    async addFile(name, pieces) {
      const file: Written = { name: Buffer.from(name), offset, crc: 0, packed: 0, size: 0 }
      await put(localHeader(file))
      const deflate = createDeflateRaw()
      const feeding = feed(deflate, pieces, file)
      // A failure is told when what was packed has been passed on.
      feeding.catch((error: Error) => deflate.destroy(error))
      for await (const packed of deflate) {
        file.packed += packed.length
        await put(packed)
      }
      await feeding
      await put(descriptor(file))
      files.push(file)
    },
    async finish() {
      const start = offset
      for (const file of files) await put(centralHeader(file))
      await put(endRecord(files.length, { start, length: offset - start }))
      out.end()
    },
  }
}

async function feed(deflate: Writable, pieces: AsyncIterable<Buffer>, file: Written): Promise<void> {
  for await (const piece of pieces) {
    file.crc = crc32(piece, file.crc)
    file.size += piece.length
    if (!deflate.write(piece)) await once(deflate, 'drain')
  }
  deflate.end()
}

/** Little-endian fields in turn, each with its length in bytes. */
function pack(...fields: [value: number, bytes: 2 | 4][]): Buffer {
  const packed = Buffer.alloc(fields.reduce((sum, [, bytes]) => sum + bytes, 0))
  let at = 0
  for (const [value, bytes] of fields) at = packed.writeUIntLE(value, at, bytes)
  return packed
}

/** A fixed day, so that the same records make the same archive: 1980-01-01, the first the format knows. */
const NO_TIME = 0
const FIRST_DAY = 0x21

function localHeader({ name }: Written): Buffer {
  const start = pack([0x0403_4b50, 4], [VERSION, 2], [FLAGS, 2], [DEFLATED, 2], [NO_TIME, 2], [FIRST_DAY, 2])
  return Buffer.concat([start, pack([0, 4], [0, 4], [0, 4], [name.length, 2], [0, 2]), name])
}

const descriptor = ({ crc, packed, size }: Written): Buffer =>
  pack([0x0807_4b50, 4], [crc, 4], [packed, 4], [size, 4])

function centralHeader({ name, offset, crc, packed, size }: Written): Buffer {
  const start = pack([0x0201_4b50, 4], [VERSION, 2], [VERSION, 2], [FLAGS, 2], [DEFLATED, 2])
  const middle = pack([NO_TIME, 2], [FIRST_DAY, 2], [crc, 4], [packed, 4], [size, 4], [name.length, 2])
  return Buffer.concat([start, middle, pack([0, 2], [0, 2], [0, 2], [0, 2], [0, 4], [offset, 4]), name])
}

function endRecord(count: number, { start, length }: { start: number; length: number }): Buffer {
  return pack([0x0605_4b50, 4], [0, 2], [0, 2], [count, 2], [count, 2], [length, 4], [start, 4], [0, 2])
}
