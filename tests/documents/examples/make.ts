import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import sharp from 'sharp'
import { renderCareSheet } from '@/lib/documents/care-sheet/render'
import { EXAMPLES } from './examples'

// node --import tsx tests/documents/examples/make.ts [folder]
// Draws every example sheet as a small picture, to be looked at and checked in. Needs pdftoppm (poppler-utils).
const folder = process.argv[2] ?? path.join(process.cwd(), 'tests/documents/examples')
const scratch = mkdtempSync(path.join(tmpdir(), 'sheets-'))
mkdirSync(folder, { recursive: true })
for (const [name, payload] of Object.entries(EXAMPLES)) {
  const file = path.join(scratch, name)
  writeFileSync(`${file}.pdf`, renderCareSheet(payload))
  execFileSync('pdftoppm', ['-r', '66', '-gray', '-png', '-singlefile', `${file}.pdf`, file])
  await sharp(`${file}.png`)
    .png({ palette: true, colours: 6, dither: 0, compressionLevel: 9 })
    .toFile(path.join(folder, `${name}.png`))
}
rmSync(scratch, { recursive: true })
