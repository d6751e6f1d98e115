import ts from 'typescript'
import { findInSyntax, type Rule } from '../rule'
import { getProperty, lineOf, listFunctions, listNodes } from '../source/syntax'

const isRecords = (path: string) => /^lib\/features\/[^/]+\/(data|mutations)\.ts$/.test(path)
const isAsked = (path: string) => isRecords(path) || /^lib\/platform\/(?!generated\/)[\w/-]+\.ts$/.test(path)

/** Functions that stand before any single workspace: they make one, look one up by a secret, or serve several. */
const BEFORE_A_WORKSPACE = new Set([
  'lib/features/workspace/mutations.ts createWorkspace',
  'lib/features/person/mutations.ts acceptConfirmation',
  'lib/features/person/mutations.ts acceptReset',
  'lib/features/person/mutations.ts acceptSecondFactor',
  'lib/features/person/mutations.ts createRecoveryCodes',
  'lib/features/person/mutations.ts endOwnSecondFactor',
  'lib/features/person/mutations.ts startOwnSecondFactor',
  'lib/features/person/mutations.ts signUp',
  'lib/features/person/mutations.ts startConfirmation',
  'lib/features/person/mutations.ts startReset',
  'lib/features/person/mutations.ts updatePassword',
  'lib/features/invitation/mutations.ts acceptInvitation',
  // Copying takes longer than a request may, so it has a transaction of its own.
  'lib/features/workspace-copy/data.ts takeWorkspaceCopy',
  'lib/features/workspace-copy/mutations.ts restoreWorkspaceCopy',
  // A device keeps entries of several workspaces: each finds its own scope among those that are handed in.
  'lib/features/bench/mutations.ts recordBenchOperations',
  'lib/features/stall/mutations.ts recordStallReceipts',
])

const functionsTakeTheirWorkspace: Rule = {
  sentence: 'what data.ts and mutations.ts export takes the transaction and the workspace first',
  check: (project) =>
    project
      .filter(({ path, syntax }) => syntax && isRecords(path))
      .flatMap(({ path, syntax }) =>
        listFunctions(syntax!)
          .filter(({ name, exported }) => exported && !BEFORE_A_WORKSPACE.has(`${path} ${name}`))
          .filter(({ node }) => isReading(node) && !takesWorkspace(node))
          .map(({ name, node }) => ({
            path,
            line: lineOf(syntax!, node),
            what: `${name} takes no workspace`,
          })),
      ),
  bites: [
    { 'lib/features/zone/data.ts': 'export async function listZones(tx: Tx) {}' },
    { 'lib/features/zone/data.ts': 'export async function listZones(tx: Tx, workspaceId: string) {}' },
    {
      'lib/features/zone/mutations.ts':
        'export const createZone = async (tx: Tx, zone: { name: string }) => 1',
    },
    { 'lib/features/zone/mutations.ts': 'export async function createZone(zone: NewZone) {}' },
  ],
  passes: {
    'lib/features/zone/data.ts':
      'export async function listZones(tx: Tx, workspaceId: WorkspaceId) {}\nexport function toRow(row: Row): ZoneRow {}',
    'lib/features/zone/mutations.ts':
      'export async function createZone(tx: Tx, scope: Scope, zone: NewZone) {}',
  },
}

/** A plain function of a row needs no workspace: only what can wait for the database does. */
function isReading(node: ts.FunctionLikeDeclaration): boolean {
  const isAsync =
    ts.canHaveModifiers(node) &&
    (ts.getModifiers(node) ?? []).some((m) => m.kind === ts.SyntaxKind.AsyncKeyword)
  return (
    isAsync || /^Promise\b/.test(node.type?.getText() ?? '') || node.parameters[0]?.type?.getText() === 'Tx'
  )
}

function takesWorkspace({ parameters: [tx, second] }: ts.FunctionLikeDeclaration): boolean {
  return (
    tx?.type?.getText() === 'Tx' &&
    /\b(WorkspaceId|Scope|Workspace|Actor|Recording)\b/.test(second?.type?.getText() ?? '')
  )
}

const ASKING = /^(find|count|aggregate|groupBy|update|upsert|delete)/

const questionsNameTheWorkspace: Rule = {
  sentence: 'every question to a table names the workspace in its own condition',
  check: (project) =>
    findInSyntax(project, isAsked, (node) => {
      if (!ts.isCallExpression(node) || !ts.isPropertyAccessExpression(node.expression)) return undefined
      const { name, expression } = node.expression
      if (!/^tx\.\w+$/.test(expression.getText()) || !ASKING.test(name.text)) return undefined
      const [question] = node.arguments
      const where =
        question && ts.isObjectLiteralExpression(question) ? getProperty(question, 'where') : undefined
      return where && namesWorkspace(where)
        ? undefined
        : `${expression.getText()}.${name.text} names no workspace`
    }),
  bites: [
    { 'lib/features/zone/data.ts': 'const zones = tx.zone.findMany()' },
    { 'lib/features/zone/data.ts': 'const zone = tx.zone.findFirst({ where: { id } })' },
    { 'lib/features/zone/data.ts': 'const count = tx.zone.count({ where })' },
    {
      'lib/features/zone/data.ts':
        'const key = { id }\nconst zone = tx.zone.findUnique({ where: { ...key } })',
    },
    {
      'lib/features/zone/mutations.ts':
        'await tx.zone.updateMany({ where: { id, version }, data: { workspaceId } })',
    },
    {
      'lib/features/zone/data.ts': 'const zones = tx.zone.findMany({ where: { species: { workspaceId } } })',
    },
  ],
  passes: {
    'lib/features/zone/data.ts':
      'tx.zone.findMany({ where: { workspaceId, archivedAt: null } })\ntx.zone.findUnique({ where: { workspaceId_id: { workspaceId, id } } })\ntx.zone.findMany({ where: { workspaceId: scope.workspaceId } })\nconst key = { workspaceId, id }\ntx.zone.updateMany({ where: { ...key, untilOn: null } })\nconst where = { workspaceId_id: key }\ntx.zone.update({ where })',
  },
}

function namesWorkspace(written: ts.Node): boolean {
  const where = ts.isIdentifier(written) ? findValue(written) : written
  if (!where || !ts.isObjectLiteralExpression(where)) return false
  return where.properties.some((property) => {
    if (ts.isSpreadAssignment(property)) return namesWorkspace(property.expression)
    const name = property.name?.getText() ?? ''
    if (name === 'workspaceId') return true
    if (!name.startsWith('workspaceId_') || !ts.isPropertyAssignment(property)) return false
    return namesWorkspace(property.initializer)
  })
}

/** What a name stands for, when it is a constant of the function in which it is used. */
function findValue(name: ts.Identifier): ts.Expression | undefined {
  const home = ts.findAncestor(name, (node) => ts.isFunctionLike(node) && !ts.isArrowFunction(node))
  return listNodes(home ?? name.getSourceFile())
    .filter(ts.isVariableDeclaration)
    .find((declaration) => declaration.name.getText() === name.text)?.initializer
}

const statementsNameTheWorkspace: Rule = {
  sentence: 'every statement written by hand names workspace_id',
  check: (project) =>
    findInSyntax(project, isAsked, (node) => {
      if (!ts.isTaggedTemplateExpression(node) || !/^tx\.\$(queryRaw|executeRaw)$/.test(node.tag.getText()))
        return undefined
      return /workspace_id|set_config|app\.(enqueue|dequeue|enter_workspace)/.test(node.template.getText())
        ? undefined
        : 'a statement names no workspace_id'
    }),
  bites: [{ 'lib/features/zone/data.ts': `await tx.$queryRaw\`select id from zone where id = \${id}\`` }],
  passes: {
    'lib/features/zone/data.ts': `await tx.$queryRaw\`select id from zone where workspace_id = \${workspaceId}::uuid\``,
  },
}

const statementsAreNeverGlued: Rule = {
  sentence: 'no statement is glued together from text',
  check: (project) =>
    findInSyntax(
      project,
      (path) => /^(lib\/(features|platform)|app|components)\//.test(path),
      (node) =>
        ts.isIdentifier(node) && /^\$?(queryRawUnsafe|executeRawUnsafe)$/.test(node.text)
          ? 'glues a statement'
          : undefined,
    ),
  bites: [{ 'lib/features/zone/data.ts': "await tx.$queryRawUnsafe('select ' + id)" }],
  passes: { 'lib/features/zone/data.ts': `await tx.$queryRaw\`select \${id}\`` },
}

const linksAreScalars: Rule = {
  sentence:
    'links are written as scalars: connect and disconnect on keys of several columns can null the workspace',
  check: (project) =>
    findInSyntax(project, isAsked, (node) =>
      ts.isPropertyAssignment(node) && /^(connect|disconnect|connectOrCreate)$/.test(node.name.getText())
        ? `writes a link by ${node.name.getText()}`
        : undefined,
    ),
  bites: [
    { 'lib/features/zone/mutations.ts': 'tx.moult.create({ data: { individual: { connect: { id } } } })' },
    {
      'lib/features/zone/mutations.ts':
        'tx.moult.update({ where: { workspaceId }, data: { zone: { disconnect: true } } })',
    },
  ],
  passes: { 'lib/features/zone/mutations.ts': 'tx.moult.create({ data: { workspaceId, individualId } })' },
}

const statementsWaitTheirTurn: Rule = {
  sentence: 'nothing inside a transaction is asked side by side',
  check: (project) =>
    findInSyntax(
      project,
      (path) => path.startsWith('lib/features/'),
      (node) =>
        ts.isCallExpression(node) && /^Promise\.(all|allSettled|race|any)$/.test(node.expression.getText())
          ? 'asks side by side'
          : undefined,
    ),
  bites: [{ 'lib/features/zone/loaders.ts': 'await Promise.all([listZones(), listSpecies()])' }],
  passes: { 'lib/platform/solver.ts': 'await Promise.all([one, other])' },
}

const workspacesAreMintedAtTheGate: Rule = {
  sentence: 'a WorkspaceId is minted by the gates alone',
  check: (project) =>
    findInSyntax(
      project,
      (path) => !path.startsWith('tests/') && path !== 'lib/platform/workspace.ts',
      (node, _syntax, file) => {
        if (ts.isAsExpression(node) && /\b(WorkspaceId|PersonId|Scope)\b/.test(node.type.getText()))
          return 'mints by a cast'
        const isMint = ts.isCallExpression(node) && node.expression.getText() === 'mintScope'
        return isMint && !MINTS.test(file.path) ? 'mints outside the gates' : undefined
      },
    ),
  bites: [
    { 'lib/features/zone/data.ts': 'const id = params.workspaceId as WorkspaceId' },
    {
      'app/w/[workspace]/page.tsx': "const scope = mintScope({ workspaceId, personId: null, role: 'owner' })",
    },
    { 'lib/features/zone/loaders.ts': 'const scope = row as unknown as Scope' },
  ],
  passes: { 'lib/platform/action.ts': 'const scope = mintScope(read)' },
}

/** The gates, what makes a workspace, what an invitation, a printed link or a calendar leads to, and the scripts of the owner. */
const MINTS =
  /^(lib\/platform\/(action|own-scopes|api\/token|jobs|public-link|hand-over-link|calendar-feed|look-up|archived-workspace)\.ts|lib\/features\/(workspace|person|membership|invitation)\/mutations\.ts|lib\/features\/(care-sheet|public-link)\/(data|loaders)\.ts|lib\/ops\/|prisma\/seed\/)/

export const scopeRules = [
  functionsTakeTheirWorkspace,
  questionsNameTheWorkspace,
  statementsNameTheWorkspace,
  statementsAreNeverGlued,
  linksAreScalars,
  statementsWaitTheirTurn,
  workspacesAreMintedAtTheGate,
]
