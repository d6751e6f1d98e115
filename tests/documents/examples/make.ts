import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { renderCareSheet } from '@/lib/documents/care-sheet/render'
import { EXAMPLES } from './examples'

// node --import tsx tests/documents/examples/make.ts [folder]
// Draws every example sheet as a small picture, to be looked at and checked in. Needs pdftoppm (poppler-utils).
const folder = process.argv[2] ?? path.join(process.cwd(), 'tests/documents/examples')
const scratch = mkdtempSync(path.join(tmpdir(), 'sheets-'))
mkdirSync(folder, { recursive: true })
for (const [name, payload] of Object.entries(EXAMPLES)) {
  const file = path.join(scratch, `${name}.pdf`)
  writeFileSync(file, renderCareSheet(payload))
  const target = path.join(folder, name)
  execFileSync('pdftoppm', ['-r', '60', '-gray', '-png', '-singlefile', file, target])
}
rmSync(scratch, { recursive: true })
