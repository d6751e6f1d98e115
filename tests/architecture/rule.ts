import type ts from 'typescript'
import type { Project, ProjectFile } from './source/project'
import { lineOf, listNodes } from './source/syntax'

export type Offence = { path: string; line: number; what: string }

/**
 * One rule of the house. `bites` are projects of planted files that each have to be refused, so that a rule that has
 * gone blind is noticed; `passes` is one that it must leave alone.
 */
export type Rule = {
  sentence: string
  check: (project: Project) => Offence[]
  bites: Record<string, string>[]
  passes: Record<string, string>
}

type Find = (node: ts.Node, syntax: ts.SourceFile, file: ProjectFile) => string | undefined

/** Offences found by looking at each node of some files. */
export function findInSyntax(project: Project, isLookedAt: (path: string) => boolean, find: Find): Offence[] {
  return project.flatMap((file) => {
    const { syntax } = file
    if (!syntax || !isLookedAt(file.path)) return []
    return listNodes(syntax).flatMap((node) => {
      const what = find(node, syntax, file)
      return what ? [{ path: file.path, line: lineOf(syntax, node), what }] : []
    })
  })
}

/** Offences found line by line in the text of some files. */
export function findInLines(
  project: Project,
  isLookedAt: (path: string) => boolean,
  find: (line: string, path: string) => string | undefined,
): Offence[] {
  return project.flatMap((file) =>
    isLookedAt(file.path)
      ? file.text.split('\n').flatMap((line, index) => {
          const what = find(line, file.path)
          return what ? [{ path: file.path, line: index + 1, what }] : []
        })
      : [],
  )
}

export function sayOffences(offences: Offence[]): string[] {
  return offences.map(({ path, line, what }) => `${path}:${line} ${what}`)
}
