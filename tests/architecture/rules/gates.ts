import ts from 'typescript'
import type { Offence, Rule } from '../rule'
import { findTarget, listImports } from '../source/imports'
import type { Project, ProjectFile } from '../source/project'
import {
  getProperty,
  lineOf,
  listConstants,
  listFunctions,
  listNodes,
  listUsedNames,
  type NamedFunction,
} from '../source/syntax'

const WRAPPERS = ['workspaceAction', 'openAction']
const isActionFile = (path: string) => /^lib\/features\/[^/]+\/actions\.ts$/.test(path)

const actionsAreWrapped: Rule = {
  sentence: 'every export of an actions.ts is built by workspaceAction or openAction',
  check: (project) => project.filter(({ path }) => isActionFile(path)).flatMap(findBareActions),
  bites: [
    { 'lib/features/moult/actions.ts': "'use server'\nexport async function recordMoultAction() {}" },
    { 'lib/features/moult/actions.ts': "'use server'\nexport const recordMoultAction = async () => 1" },
    { 'lib/features/moult/actions.ts': "'use server'\nconst bare = async () => 1\nexport { bare }" },
    { 'lib/features/moult/actions.ts': 'export const recordMoultAction = workspaceAction({}, body)' },
    { 'lib/features/moult/actions.ts': "'use server'\nexport default async function () {}" },
  ],
  passes: {
    'lib/features/moult/actions.ts':
      "'use server'\nexport const recordMoultAction = workspaceAction({ permission: 'individual:write', schema }, body)\nexport type Done = { id: string }",
  },
}

function findBareActions(file: ProjectFile): Offence[] {
  const { syntax } = file
  if (!syntax) return []
  const at = (node: ts.Node, what: string) => ({ path: file.path, line: lineOf(syntax, node), what })
  const first = syntax.statements[0]
  const isServer =
    first && ts.isExpressionStatement(first) && first.expression.getText().slice(1, -1) === 'use server'
  const bare = syntax.statements.flatMap((statement) => {
    if (ts.isExportDeclaration(statement) || ts.isExportAssignment(statement))
      return statement.getText().startsWith('export type') ? [] : [at(statement, 'exports past the wrapper')]
    if (
      ts.isFunctionDeclaration(statement) &&
      listFunctions(syntax).some((f) => f.node === statement && f.exported)
    )
      return [at(statement, `${statement.name?.text ?? 'default'} is not wrapped`)]
    return listConstants(statement)
      .filter(({ exported, value }) => exported && !isWrapped(value))
      .map(({ name }) => at(statement, `${name} is not wrapped`))
  })
  return isServer ? bare : [at(syntax, "does not begin with 'use server'"), ...bare]
}

function isWrapped(value: ts.Expression | undefined): boolean {
  return value !== undefined && ts.isCallExpression(value) && WRAPPERS.includes(value.expression.getText())
}

const actionsStandInActionFiles: Rule = {
  sentence: "'use server' stands in actions.ts alone",
  check: (project) =>
    project
      .filter(({ path, syntax }) => syntax && !isActionFile(path) && !path.startsWith('tests/'))
      .flatMap(({ path, syntax }) =>
        listNodes(syntax!)
          .filter((node) => ts.isExpressionStatement(node) && /^['"]use server['"]/.test(node.getText()))
          .map((node) => ({ path, line: lineOf(syntax!, node), what: 'opens another entry to the server' })),
      ),
  bites: [
    {
      'app/w/[workspace]/page.tsx':
        "export default function Page() {\n  async function save() {\n    'use server'\n  }\n}",
    },
    { 'components/zone/save.ts': "'use server'\nexport const save = async () => 1" },
  ],
  passes: { 'components/zone/form.tsx': "'use client'\nexport const Form = () => null" },
}

const actionBodiesAreShort: Rule = {
  sentence: 'an action is its gate and a body of about ten lines',
  check: (project) =>
    project
      .filter(({ path, syntax }) => syntax && isActionFile(path))
      .flatMap(({ path, syntax }) =>
        syntax!.statements.flatMap((statement) =>
          listConstants(statement).flatMap(({ name, value }) => {
            const body = value && ts.isCallExpression(value) ? value.arguments.at(-1) : undefined
            const lines = body ? body.getText().split('\n').length : 0
            return lines > 16
              ? [{ path, line: lineOf(syntax!, statement), what: `${name} takes ${lines} lines` }]
              : []
          }),
        ),
      ),
  bites: [
    {
      'lib/features/moult/actions.ts': `'use server'\nexport const recordMoultAction = workspaceAction({}, async () => {\n${'  step()\n'.repeat(16)}})`,
    },
  ],
  passes: {
    'lib/features/moult/actions.ts': `'use server'\nexport const recordMoultAction = workspaceAction({}, async () => {\n${'  step()\n'.repeat(8)}})`,
  },
}

const GATES =
  /^(requireScope|loadPage|requireSignedIn|readSignedIn|readMembership|lookUpInvitation|lookUpPasswordReset|lookUpConfirmation|lookUpPublicLink|lookUpCalendarFeed)$/

const loadersPassTheGate: Rule = {
  sentence: 'every exported loader asks requireScope before it reads, itself or through a loader it calls',
  check: (project) =>
    project
      .filter(({ path, syntax }) => syntax && /^lib\/features\/[^/]+\/loaders\.ts$/.test(path))
      .flatMap((file) => {
        const gated = listGated(project, file)
        return listFunctions(file.syntax!)
          .filter((each) => each.exported && !gated.has(each.name) && opensItself(each))
          .map(({ name, node }) => ({
            path: file.path,
            line: lineOf(file.syntax!, node),
            what: `${name} has no gate`,
          }))
      }),
  bites: [
    {
      'lib/features/zone/loaders.ts':
        'export async function loadZones(slug) {\n  return inWorkspace(slug, listZones)\n}',
    },
    { 'lib/features/zone/loaders.ts': 'export const loadZones = async (slug) => 1' },
  ],
  passes: {
    'lib/features/zone/loaders.ts':
      "export async function loadZones(slug) {\n  const scope = await requireScope(slug, 'zone:read')\n  return inWorkspace(scope, listZones)\n}\nexport const loadZone = (slug) => loadZones(slug)\nexport function presentZone(zone: Zone): ZoneAnswer {\n  return zone\n}\nexport async function loadZoneAnswer(tx: Tx) {\n  return await zoneOf(tx)\n}",
  },
}

/** What is handed a transaction has been let in by whoever opened it; what does not wait reads nothing. */
function opensItself({ node }: NamedFunction): boolean {
  const isWaiting = node.getText().includes('await') || /^(Promise\b|$)/.test(node.type?.getText() ?? '')
  return isWaiting && node.parameters[0]?.type?.getText() !== 'Tx'
}

function listGated(project: Project, file: ProjectFile, seen = new Set<string>()): Set<string> {
  if (!file.syntax || seen.has(file.path)) return new Set()
  const inherited = listImports(file)
    .filter(({ target, names }) => target.endsWith('/loaders') && names.length > 0)
    .flatMap(({ target, names }) => {
      const other = findTarget(project, target)
      const gated = other ? listGated(project, other, new Set([...seen, file.path])) : new Set<string>()
      return names.filter((name) => gated.has(name))
    })
  const gated = new Set(inherited)
  const functions = listFunctions(file.syntax)
  for (let grown = true; grown; ) {
    grown = false
    for (const { name, node } of functions) {
      if (gated.has(name) || ![...listUsedNames(node)].some((used) => GATES.test(used) || gated.has(used)))
        continue
      gated.add(name)
      grown = true
    }
  }
  return gated
}

const pagesPassTheGate: Rule = {
  sentence: 'every page and route below /w/[workspace] reads through a loader or asks requireScope itself',
  check: (project) =>
    project
      .filter(({ path }) => /^app\/w\/\[workspace\]\/(.*\/)?(page\.tsx|route\.ts)$/.test(path))
      .flatMap((file) => {
        const loaders = listImports(file)
          .filter(({ target }) => target.endsWith('/loaders'))
          .flatMap(({ names }) => names)
        const functions = listFunctions(file.syntax!).filter(({ exported }) => exported)
        const isOpen = (node: ts.Node) =>
          ![...listUsedNames(node)].some((used) => loaders.includes(used) || used === 'requireScope')
        return functions
          .filter(({ node }) => isOpen(node))
          .map(({ name, node }) => ({
            path: file.path,
            line: lineOf(file.syntax!, node),
            what: `${name} passes no gate`,
          }))
      }),
  bites: [
    { 'app/w/[workspace]/zones/page.tsx': 'export default function Page() {\n  return <p>Zones</p>\n}' },
    { 'app/w/[workspace]/zones/print/route.ts': 'export async function GET() {\n  return new Response()\n}' },
    {
      'app/w/[workspace]/zones/page.tsx':
        "import { loadZones } from '@/lib/features/zone/loaders'\nexport default function Page() {\n  return <p>Zones</p>\n}",
    },
  ],
  passes: {
    'app/w/[workspace]/zones/page.tsx':
      "import { loadZones } from '@/lib/features/zone/loaders'\nexport default async function Page({ params }) {\n  return <p>{(await loadZones(params)).length}</p>\n}\nexport const metadata = { title: 'Zones' }",
  },
}

/** Routes of the API that stand outside the wrapper, each for a reason that is written where it is. */
const OPEN_ROUTES = [
  'app/api/auth/[...nextauth]/route.ts',
  'app/api/health/route.ts',
  'app/api/v1/openapi.json/route.ts',
  'app/api/v1/docs/route.ts',
  'app/api/v1/calendar.ics/route.ts',
]

const METHODS = /^(GET|POST|PUT|PATCH|DELETE|HEAD|OPTIONS)$/

const routesAreWrapped: Rule = {
  sentence: 'every method of the JSON API is built by apiRoute',
  check: (project) =>
    project
      .filter(({ path }) => /^app\/api\/v1\/.*route\.ts$/.test(path) && !OPEN_ROUTES.includes(path))
      .flatMap(({ path, syntax }) =>
        syntax!.statements.flatMap((statement) => {
          const isBareFunction =
            ts.isFunctionDeclaration(statement) && METHODS.test(statement.name?.text ?? '')
          const isHandedOn = ts.isExportDeclaration(statement)
          const isBareConstant = listConstants(statement).some(
            ({ name, value }) =>
              METHODS.test(name) && !/^api(Pdf|Computed|Stream|Upload)?Route\(/.test(value?.getText() ?? ''),
          )
          return isBareFunction || isHandedOn || isBareConstant
            ? [{ path, line: lineOf(syntax!, statement), what: 'answers without apiRoute' }]
            : []
        }),
      ),
  bites: [
    { 'app/api/v1/zones/route.ts': 'export async function GET() {\n  return Response.json([])\n}' },
    { 'app/api/v1/zones/route.ts': 'export const POST = async () => new Response()' },
    { 'app/api/v1/zones/route.ts': 'const handle = () => 1\nexport { handle as GET }' },
  ],
  passes: {
    'app/api/v1/zones/route.ts': 'export const GET = apiRoute(zoneApi.list, ({ tx }) => listZones(tx))',
  },
}

const getsOnlyRead: Rule = {
  sentence: 'no GET changes anything: it reaches no mutation and no action',
  check: (project) =>
    project
      .filter(({ path }) => /^app\/.*(route\.ts|page\.tsx|layout\.tsx)$/.test(path))
      .flatMap((file) => {
        const writing = new Set(
          listImports(file)
            .filter(({ target, isTypeOnly }) => !isTypeOnly && /\/mutations$/.test(target))
            .flatMap(({ names }) => names),
        )
        return listReading(file)
          .filter((node) => [...listUsedNames(node)].some((used) => writing.has(used)))
          .map((node) => ({
            path: file.path,
            line: lineOf(file.syntax!, node),
            what: 'writes while it reads',
          }))
      }),
  bites: [
    {
      'app/api/v1/zones/route.ts':
        "import { createZone } from '@/lib/features/zone/mutations'\nexport const GET = apiRoute(api, (c) => createZone(c))",
    },
    {
      'app/api/v1/zones/route.ts':
        "import { createZone } from '@/lib/features/zone/mutations'\nconst answer = (c) => createZone(c)\nexport const GET = apiRoute(api, answer)",
    },
    {
      'app/p/[token]/page.tsx':
        "import { recordVisit } from '@/lib/features/care-sheet/mutations'\nexport default async function Page() {\n  await recordVisit()\n}",
    },
  ],
  passes: {
    'app/api/v1/zones/route.ts':
      "import { createZone } from '@/lib/features/zone/mutations'\nexport const GET = apiRoute(api, () => listZones())\nexport const POST = apiRoute(api, (c) => createZone(c))",
  },
}

/** The code that answers a GET: everything but the other methods' own expressions. */
function listReading({ path, syntax }: ProjectFile): ts.Node[] {
  if (!syntax) return []
  if (!path.endsWith('route.ts')) return [...syntax.statements].filter((s) => !ts.isImportDeclaration(s))
  const byName = new Map<string, ts.Node>([
    ...listFunctions(syntax).map(({ name, node }): [string, ts.Node] => [name, node]),
    ...syntax.statements.flatMap((s) =>
      listConstants(s).flatMap(({ name, value }): [string, ts.Node][] => (value ? [[name, value]] : [])),
    ),
  ])
  const reached = new Set<string>()
  const visit = (name: string): void => {
    const node = byName.get(name)
    if (!node || reached.has(name)) return
    reached.add(name)
    for (const used of listUsedNames(node)) visit(used)
  }
  visit('GET')
  visit('HEAD')
  return [...reached].flatMap((name) => byName.get(name) ?? [])
}

const describedGetsAreGets: Rule = {
  sentence: 'a described call that needs a writing permission is no GET',
  check: (project) =>
    project
      .filter(({ path, syntax }) => syntax && /^lib\/features\/[^/]+\/schema\.ts$/.test(path))
      .flatMap(({ path, syntax }) =>
        listNodes(syntax!)
          .filter(ts.isObjectLiteralExpression)
          .filter((object) => {
            const method = getProperty(object, 'method')?.getText().slice(1, -1)
            const permission = getProperty(object, 'permission')?.getText().slice(1, -1) ?? ''
            return method === 'get' && /:(write|place|manage|revoke)$/.test(permission)
          })
          .map((object) => ({ path, line: lineOf(syntax!, object), what: 'reads by a permission to write' })),
      ),
  bites: [{ 'lib/features/zone/schema.ts': "describeApi({ method: 'get', permission: 'zone:write' })" }],
  passes: { 'lib/features/zone/schema.ts': "describeApi({ method: 'get', permission: 'zone:read' })" },
}

export const gateRules = [
  actionsAreWrapped,
  actionsStandInActionFiles,
  actionBodiesAreShort,
  loadersPassTheGate,
  pagesPassTheGate,
  routesAreWrapped,
  getsOnlyRead,
  describedGetsAreGets,
]
