import { type FileHandle, open } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { crc32, createInflateRaw } from 'node:zlib'
import { AppError } from '@/lib/platform/errors'

const END = 0x0605_4b50
const CENTRAL = 0x0201_4b50
const LOCAL = 0x0403_4b50
const LONGEST_END = 22 + 65_535
const LARGEST_DIRECTORY_BYTES = 1_000_000
const PIECE_BYTES = 65_536

type Entry = { method: number; crc: number; packed: number; size: number; offset: number }

/** An archive on the disk whose files are read one at a time, each checked while it passes. */
export type ZipReader = {
  has(name: string): boolean
  /**
   * @param most how many bytes it may unpack to
   * @throws AppError invalid when it is longer, or not what was packed
   */
  read(name: string, most: number): AsyncIterable<Buffer>
  close(): Promise<void>
}

const damaged = (what: string) => new AppError('invalid', `This file is damaged: ${what}.`)

/** @throws AppError invalid for what is no zip archive */
export async function openZip(path: string): Promise<ZipReader> {
  const file = await open(path, 'r')
  try {
    const entries = await readDirectory(file)
    return {
      has: (name) => entries.has(name),
      read: (name, most) => unpack(file, { name, entry: entries.get(name), most }),
      close: () => file.close(),
    }
  } catch (error) {
    await file.close()
    throw error
  }
}

async function readAt(file: FileHandle, at: number, length: number): Promise<Buffer> {
  const bytes = Buffer.alloc(length)
  const { bytesRead } = await file.read(bytes, 0, length, at)
  if (bytesRead < length) throw damaged('it ends too early')
  return bytes
}

async function readDirectory(file: FileHandle): Promise<Map<string, Entry>> {
  const { size } = await file.stat()
  const tail = await readAt(file, Math.max(0, size - LONGEST_END), Math.min(size, LONGEST_END))
  const end = findEnd(tail)
  if (end < 0) throw new AppError('invalid', 'This is no zip archive, or only the first part of one.')
  const [length, start] = [tail.readUInt32LE(end + 12), tail.readUInt32LE(end + 16)]
  if (length > LARGEST_DIRECTORY_BYTES || start + length > size) throw damaged('its list of files is wrong')
  return listEntries(await readAt(file, start, length))
}

function findEnd(tail: Buffer): number {
  for (let at = tail.length - 22; at >= 0; at--) if (tail.readUInt32LE(at) === END) return at
  return -1
}

function listEntries(directory: Buffer): Map<string, Entry> {
  const entries = new Map<string, Entry>()
  for (let at = 0; at + 46 <= directory.length; ) {
    if (directory.readUInt32LE(at) !== CENTRAL) throw damaged('its list of files is wrong')
    const name = directory.toString('utf8', at + 46, at + 46 + directory.readUInt16LE(at + 28))
    if (entries.has(name)) throw damaged(`${name} is in it twice`)
    entries.set(name, {
      method: directory.readUInt16LE(at + 10),
      crc: directory.readUInt32LE(at + 16),
      packed: directory.readUInt32LE(at + 20),
      size: directory.readUInt32LE(at + 24),
      offset: directory.readUInt32LE(at + 42),
    })
    const lengths = [28, 30, 32].map((field) => directory.readUInt16LE(at + field))
    at += 46 + lengths.reduce((sum, each) => sum + each, 0)
  }
  return entries
}

type Wanted = { name: string; entry: Entry | undefined; most: number }

async function* unpack(file: FileHandle, { name, entry, most }: Wanted): AsyncGenerator<Buffer> {
  if (!entry) throw damaged(`${name} is missing`)
  if (entry.size > most) throw new AppError('too-large', `${name} is larger than it may be.`)
  const header = await readAt(file, entry.offset, 30)
  if (header.readUInt32LE(0) !== LOCAL) throw damaged(`${name} is not where it should be`)
  const start = entry.offset + 30 + header.readUInt16LE(26) + header.readUInt16LE(28)
  let [crc, size] = [0, 0]
  try {
    for await (const piece of inflate(file, start, entry)) {
      crc = crc32(piece, crc)
      size += piece.length
      if (size > entry.size) break
      yield piece
    }
  } catch (error) {
    throw error instanceof AppError ? error : damaged(`${name} cannot be unpacked`)
  }
  if (size !== entry.size || crc !== entry.crc) throw damaged(`${name} is not what was packed`)
}

function inflate(file: FileHandle, start: number, { method, packed }: Entry): AsyncIterable<Buffer> {
  if (method !== 8 && method !== 0) throw damaged('it is packed in an unknown way')
  const source = Readable.from(readPieces(file, start, start + packed))
  if (method === 0) return source
  const target = createInflateRaw()
  source.once('error', (error) => target.destroy(error))
  return source.pipe(target)
}

async function* readPieces(file: FileHandle, from: number, until: number): AsyncGenerator<Buffer> {
  for (let at = from; at < until; at += PIECE_BYTES)
    yield await readAt(file, at, Math.min(PIECE_BYTES, until - at))
}
