import fs from 'node:fs'
import path from 'node:path'
import ts from 'typescript'

export const ROOT = path.resolve(import.meta.dirname, '../../..')

/** One file of the project; `syntax` only where TypeScript can read it. */
export type ProjectFile = { path: string; text: string; syntax?: ts.SourceFile }

/** The files a rule looks at: the real ones, or a few planted ones. */
export type Project = ProjectFile[]

const LEFT_OUT = /^(node_modules|\.git|\.next.*|\.data.*|coverage|test-output)$/
const GENERATED = ['lib/platform/generated', 'next-env.d.ts', '.env', '.env.local']
const TEXT = /\.(ts|tsx|mjs|css|json|md|yml|yaml|sql|prisma|toml|txt|typ|svg|example)$|^\.[\w/.-]+$|\/run$/
const SOURCE = /\.(ts|tsx|mjs)$/

/** A file as the rules see it, from its text alone. */
export function readText(filePath: string, text: string): ProjectFile {
  if (!SOURCE.test(filePath)) return { path: filePath, text }
  const kind = filePath.endsWith('.tsx')
    ? ts.ScriptKind.TSX
    : filePath.endsWith('.mjs')
      ? ts.ScriptKind.JS
      : ts.ScriptKind.TS
  return {
    path: filePath,
    text,
    syntax: ts.createSourceFile(filePath, text, ts.ScriptTarget.ES2023, true, kind),
  }
}

/** A small project out of planted texts by path. */
export function plantProject(files: Record<string, string>): Project {
  return Object.entries(files).map(([filePath, text]) => readText(filePath, text))
}

/** Every path below the root that people wrote, in a fixed order. */
export function listPaths(folder = ''): string[] {
  return fs
    .readdirSync(path.join(ROOT, folder), { withFileTypes: true })
    .sort((one, other) => (one.name < other.name ? -1 : 1))
    .flatMap((entry) => {
      const at = folder ? `${folder}/${entry.name}` : entry.name
      if (GENERATED.includes(at) || at.endsWith('.tsbuildinfo') || LEFT_OUT.test(entry.name)) return []
      return entry.isDirectory() ? listPaths(at) : [at]
    })
}

let read: Project | undefined

/** The project as it stands, read once per test file. Files that are not text carry an empty one. */
export function loadProject(): Project {
  read ??= listPaths().map((at) =>
    readText(at, TEXT.test(at) ? fs.readFileSync(path.join(ROOT, at), 'utf8') : ''),
  )
  return read
}
