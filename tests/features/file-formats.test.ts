import { createWriteStream, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { finished } from 'node:stream/promises'
import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import { writeCsvLine } from '@/lib/platform/csv-line'
import { openZip } from '@/lib/platform/zip/read'
import { createZip } from '@/lib/platform/zip/write'
import { listNames, unpack } from '@/tests/support/workspace-file'

const folder = mkdtempSync(path.join(os.tmpdir(), 'oothecary-formats-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

async function* inPieces(text: string): AsyncGenerator<Buffer> {
  const bytes = Buffer.from(text)
  for (let at = 0; at < bytes.length; at += 1000) yield bytes.subarray(at, at + 1000)
}

async function pack(name: string, files: [string, string][]): Promise<string> {
  const file = path.join(folder, name)
  const out = createWriteStream(file)
  const zip = createZip(out)
  for (const [each, text] of files) await zip.addFile(each, inPieces(text))
  await zip.finish()
  await finished(out)
  return file
}

describe('an archive', () => {
  it('gives back what was put in, whatever it was', async () => {
    const texts = fc.array(fc.tuple(fc.uuid(), fc.string({ maxLength: 3000, unit: 'grapheme' })), {
      maxLength: 6,
    })
    await fc.assert(
      fc.asyncProperty(texts, fc.uuid(), async (files, name) => {
        const file = await pack(name, files)
        expect([...(await unpack(file, listNames(file)))]).toEqual([...new Map(files)])
      }),
      { numRuns: 25 },
    )
  })

  it('is given in full or refused: more than may be unpacked is not', async () => {
    const file = await pack('large.zip', [['cups', 'a'.repeat(5000)]])
    const zip = await openZip(file)
    const read = async () => {
      for await (const _ of zip.read('cups', 4999));
    }
    await expect(read()).rejects.toMatchObject({ code: 'too-large' })
    await zip.close()
  })
})

describe('a line for a spreadsheet', () => {
  it('runs no formula, and can be undone', () => {
    expect(writeCsvLine(['=1+1', '-5 °C', "'tis", 'a "b", c', null, 7, true])).toBe(
      `"'=1+1","'-5 °C","''tis","a ""b"", c",,7,true\r\n`,
    )
    fc.assert(
      fc.property(fc.string(), (text) => {
        const cell = writeCsvLine([text]).slice(1, -3).replaceAll('""', '"')
        expect(cell).not.toMatch(/^[=+\-@\t\r]/)
        expect(cell.startsWith("'") ? cell.slice(1) : cell).toBe(text)
      }),
    )
  })
})
