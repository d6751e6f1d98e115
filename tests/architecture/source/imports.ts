import path from 'node:path'
import ts from 'typescript'
import type { Project, ProjectFile } from './project'
import { lineOf, listNodes } from './syntax'

/** One import, re-export, dynamic import or require; `target` is a path of the project or a package. */
export type Import = {
  written: string
  target: string
  isPackage: boolean
  isTypeOnly: boolean
  names: string[]
  line: number
}

/** Every way in which a file names another one, type imports included. */
export function listImports(file: ProjectFile): Import[] {
  if (!file.syntax) return []
  const { syntax } = file
  return listNodes(syntax).flatMap((node) => {
    const written = getSpecifier(node)
    if (written === undefined) return []
    const clause = ts.isImportDeclaration(node) ? node.importClause : undefined
    return [
      {
        written,
        ...resolveSpecifier(file.path, written),
        isTypeOnly: isTypeOnly(node),
        names: clause ? listBoundNames(clause) : [],
        line: lineOf(syntax, node),
      },
    ]
  })
}

function getSpecifier(node: ts.Node): string | undefined {
  if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node))
    return node.moduleSpecifier && ts.isStringLiteralLike(node.moduleSpecifier)
      ? node.moduleSpecifier.text
      : undefined
  if (
    ts.isImportTypeNode(node) &&
    ts.isLiteralTypeNode(node.argument) &&
    ts.isStringLiteral(node.argument.literal)
  )
    return node.argument.literal.text
  if (!ts.isCallExpression(node)) return undefined
  const called = node.expression
  const isImport = called.kind === ts.SyntaxKind.ImportKeyword || called.getText() === 'require'
  const [first] = node.arguments
  return isImport && first && ts.isStringLiteralLike(first) ? first.text : undefined
}

function isTypeOnly(node: ts.Node): boolean {
  if (ts.isImportTypeNode(node)) return true
  if (ts.isExportDeclaration(node)) return node.isTypeOnly
  if (!ts.isImportDeclaration(node) || !node.importClause) return false
  const { importClause } = node
  if (importClause.isTypeOnly) return true
  const named = importClause.namedBindings
  return (
    !importClause.name &&
    named !== undefined &&
    ts.isNamedImports(named) &&
    named.elements.length > 0 &&
    named.elements.every((element) => element.isTypeOnly)
  )
}

function listBoundNames(clause: ts.ImportClause): string[] {
  const named = clause.namedBindings
  const own = clause.name ? [clause.name.text] : []
  if (!named) return own
  return ts.isNamedImports(named)
    ? [...own, ...named.elements.map((e) => e.name.text)]
    : [...own, named.name.text]
}

function resolveSpecifier(from: string, written: string): { target: string; isPackage: boolean } {
  if (written.startsWith('@/')) return { target: written.slice(2), isPackage: false }
  if (written.startsWith('.'))
    return {
      target: path.posix.normalize(path.posix.join(path.posix.dirname(from), written)),
      isPackage: false,
    }
  return { target: written.replace(/^node:/, ''), isPackage: true }
}

/** The name under which other files import this one. */
export function moduleName(filePath: string): string {
  return filePath.replace(/\.(tsx?|d\.ts)$/, '')
}

/** The file of the project that an import means. */
export function findTarget(project: Project, target: string): ProjectFile | undefined {
  return project.find((file) => file.path === target || moduleName(file.path) === target)
}
