import { createWriteStream, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Writable } from 'node:stream'
import { finished } from 'node:stream/promises'
import { openZip } from '@/lib/platform/zip/read'
import { createZip } from '@/lib/platform/zip/write'

const MOST = 500_000_000

/** The files of an archive, each whole. */
export async function unpack(path: string, names: readonly string[]): Promise<Map<string, string>> {
  const zip = await openZip(path)
  const files = new Map<string, string>()
  for (const name of names) {
    const pieces: Buffer[] = []
    for await (const piece of zip.read(name, MOST)) pieces.push(piece)
    files.set(name, Buffer.concat(pieces).toString())
  }
  await zip.close()
  return files
}

/** What stands in an archive, by its own list. */
export function listNames(path: string): string[] {
  const bytes = readFileSync(path)
  const names: string[] = []
  for (let at = bytes.indexOf('PK\x01\x02'); at >= 0; at = bytes.indexOf('PK\x01\x02', at + 4))
    names.push(bytes.toString('utf8', at + 46, at + 46 + bytes.readUInt16LE(at + 28)))
  return names
}

/** The same archive with some of its texts changed: what somebody could make who knows the format. */
export async function repack(
  { from, to }: { from: string; to: string },
  change: (name: string, text: string) => string,
): Promise<string> {
  const names = listNames(from)
  const files = await unpack(from, names)
  const out = createWriteStream(to)
  const zip = createZip(out)
  for (const name of names) await zip.addFile(name, oneByOne(change(name, files.get(name) ?? '')))
  await zip.finish()
  await finished(out)
  return to
}

async function* oneByOne(text: string): AsyncGenerator<Buffer> {
  yield Buffer.from(text)
}

/** What a written archive says, all of it. */
export async function readWhole(write: (out: Writable) => Promise<void>): Promise<string> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'oothecary-read-'))
  try {
    const file = path.join(folder, 'whole.zip')
    const out = createWriteStream(file)
    await write(out)
    await finished(out)
    return [...(await unpack(file, listNames(file))).values()].join('\n')
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
