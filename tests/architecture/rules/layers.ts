import type { Offence, Rule } from '../rule'
import { findTarget, type Import, listImports, moduleName } from '../source/imports'
import type { Project } from '../source/project'

type Layer = { name: string; holds: RegExp; sees: string[] }

/** From the outside in. A layer sees itself only where it is in its own list. */
const LAYERS: Layer[] = [
  { name: 'tests', holds: /^tests\//, sees: ['*'] },
  {
    name: 'scripts',
    holds: /^lib\/ops\//,
    sees: ['scripts', 'features', 'documents', 'messages', 'platform', 'core', 'seed'],
  },
  {
    name: 'seed',
    holds: /^prisma\/seed\//,
    sees: ['seed', 'features', 'documents', 'messages', 'platform', 'core'],
  },
  {
    name: 'app',
    holds: /^app\//,
    sees: ['app', 'components', 'features', 'documents', 'messages', 'platform', 'core'],
  },
  {
    name: 'components',
    holds: /^components\//,
    sees: ['components', 'features', 'messages', 'platform', 'core'],
  },
  {
    name: 'features',
    holds: /^lib\/features\//,
    sees: ['features', 'documents', 'messages', 'platform', 'core'],
  },
  { name: 'documents', holds: /^lib\/documents\//, sees: ['documents', 'messages', 'core'] },
  { name: 'platform', holds: /^lib\/platform\//, sees: ['platform', 'messages', 'core'] },
  { name: 'messages', holds: /^lib\/messages\//, sees: ['messages', 'core'] },
  { name: 'core', holds: /^lib\/domain\//, sees: ['core'] },
]

function findLayer(path: string): Layer | undefined {
  return LAYERS.find(({ holds }) => holds.test(path))
}

function checkImports(
  project: Project,
  judge: (from: string, found: Import) => string | undefined,
): Offence[] {
  return project.flatMap((file) =>
    listImports(file)
      .filter(({ isPackage }) => !isPackage)
      .flatMap((found) => {
        const what = judge(file.path, found)
        return what ? [{ path: file.path, line: found.line, what }] : []
      }),
  )
}

const layersPointInwards: Rule = {
  sentence: 'app, components, features, documents, platform and core import inwards only',
  check: (project) =>
    checkImports(project, (path, { target, written }) => {
      const from = findLayer(path)
      const to = findLayer(target)
      if (!from || !to || from.sees.includes('*') || from.sees.includes(to.name)) return undefined
      return `${from.name} imports ${to.name}: ${written}`
    }),
  bites: [
    { 'lib/platform/action.ts': "import { recordMoult } from '@/lib/features/moult/mutations'" },
    { 'lib/documents/label/render.ts': "import { env } from '@/lib/platform/env'" },
    { 'components/ui/button.tsx': "import Page from '@/app/page'" },
    { 'lib/features/moult/loaders.ts': "import { Button } from '@/components/ui/button'" },
    { 'lib/domain/clock/clock.ts': "import { log } from '../../platform/log'" },
    { 'app/page.tsx': "import { makeWorkspace } from '@/prisma/seed/workspace'" },
    { 'lib/platform/db.ts': "import { connect } from '@/lib/ops/database/connection'" },
    { 'app/page.tsx': "import { plantProject } from '@/tests/architecture/source/project'" },
  ],
  passes: {
    'app/page.tsx': "import { Button } from '@/components/ui/button'",
    'lib/features/moult/loaders.ts': "import { inWorkspace } from '@/lib/platform/workspace'",
    'tests/features/moult.test.ts': "import { recordMoult } from '@/lib/features/moult/mutations'",
  },
}

const SHARED_CONCEPT = /^components\/(?!ui\/)[^/]+\//

const primitivesKnowNoConcepts: Rule = {
  sentence: 'the primitives would fit any product: they know no concept, no feature and no page',
  check: (project) =>
    checkImports(project, (path, { target, written }) =>
      path.startsWith('components/ui/') &&
      (SHARED_CONCEPT.test(target) || /^(app|lib\/features|lib\/domain\/(?!calendar\/))/.test(target))
        ? `a primitive imports ${written}`
        : undefined,
    ),
  bites: [
    { 'components/ui/button.tsx': "import { HeadCountBar } from '@/components/clutch/head-count-bar'" },
    { 'components/ui/button.tsx': "import { isAllowed } from '@/lib/domain/role/permissions'" },
  ],
  passes: {
    'components/ui/dialog.tsx':
      "import { Button } from './button'\nimport { addDays } from '@/lib/domain/calendar/date'",
    'components/clutch/head-count-bar.tsx': "import { DataTable } from '@/components/ui/data-table'",
  },
}

const segmentsKeepToThemselves: Rule = {
  sentence: 'one segment of the app takes nothing from another but what stands above it',
  check: (project) =>
    checkImports(project, (path, { target, written }) => {
      if (!path.startsWith('app/') || !target.startsWith('app/')) return undefined
      const owner = target.replace(/\/(_components\/.*|[^/]+)$/, '')
      return path.startsWith(`${owner}/`) ? undefined : `takes ${written} from another segment`
    }),
  bites: [
    { 'app/w/[workspace]/zones/page.tsx': "import { Row } from '../clutches/_components/row'" },
    { 'app/w/[workspace]/zones/page.tsx': "import Page from '@/app/w/[workspace]/clutches/page'" },
  ],
  passes: {
    'app/w/[workspace]/zones/[id]/page.tsx':
      "import { Row } from '../_components/row'\nimport { Own } from './_components/own'",
  },
}

const graphHasNoCycles: Rule = {
  sentence: 'no file imports itself by a detour',
  check: (project) =>
    listCycles(project).map((cycle) => ({ path: cycle[0] ?? '', line: 1, what: cycle.join(' → ') })),
  bites: [
    { 'lib/domain/a/a.ts': "import { b } from './b'", 'lib/domain/a/b.ts': "import { a } from './a'" },
    {
      'lib/platform/a.ts': "import { b } from '@/lib/platform/b'",
      'lib/platform/b.ts': "import type { C } from '@/lib/platform/api/c'",
      'lib/platform/api/c.ts': "export const a = () => import('@/lib/platform/a')",
    },
  ],
  passes: {
    'lib/domain/a/a.ts': "import { c } from './c'\nimport { b } from './b'",
    'lib/domain/a/b.ts': "import { c } from './c'",
    'lib/domain/a/c.ts': 'export const c = 1',
  },
}

/** Each cycle once, as the path around it, found by depth-first search. Cost: files + imports. */
function listCycles(project: Project): string[][] {
  const edges = new Map(
    project.map((file) => [
      file.path,
      listImports(file).flatMap(({ target, isPackage, isTypeOnly }) => {
        // A component and the hook beside it may share a type: nothing runs in a circle through it.
        const isNeighbour = isTypeOnly && folderOf(target) === folderOf(file.path)
        const found =
          isPackage || isNeighbour
            ? undefined
            : (byModule(project).get(target) ?? findTarget(project, target)?.path)
        return found && found !== file.path ? [found] : []
      }),
    ]),
  )
  const done = new Set<string>()
  const cycles: string[][] = []
  const visit = (path: string, trail: string[]): void => {
    const at = trail.indexOf(path)
    if (at >= 0) cycles.push([...trail.slice(at), path])
    if (at >= 0 || done.has(path)) return
    for (const next of edges.get(path) ?? []) visit(next, [...trail, path])
    done.add(path)
  }
  for (const { path } of project) visit(path, [])
  return cycles
}

const folderOf = (path: string) => path.slice(0, path.lastIndexOf('/'))

const modules = new WeakMap<Project, Map<string, string>>()

function byModule(project: Project): Map<string, string> {
  const known = modules.get(project) ?? new Map(project.map(({ path }) => [moduleName(path), path]))
  modules.set(project, known)
  return known
}

export const layerRules = [
  layersPointInwards,
  primitivesKnowNoConcepts,
  segmentsKeepToThemselves,
  graphHasNoCycles,
]
