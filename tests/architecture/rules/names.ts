import ts from 'typescript'
import { findInSyntax, type Offence, type Rule } from '../rule'
import { listImports } from '../source/imports'
import type { Project } from '../source/project'
import { isExported } from '../source/syntax'

function judgePaths(project: Project, judge: (path: string) => string | undefined): Offence[] {
  return project.flatMap(({ path }) => {
    const what = judge(path)
    return what ? [{ path, line: 1, what }] : []
  })
}

const TOP_FOLDERS = ['prisma', 'app', 'components', 'lib', 'tests']
const TOP_FILES =
  /^(README\.md|DEVELOPERS\.md|package\.json|package-lock\.json|docker-compose\.yml|proxy\.ts|instrumentation\.ts|tsconfig\.json|biome\.json|[\w.-]+\.config\.(ts|mjs))$/

const topLevelIsFixed: Rule = {
  sentence: 'the top level holds the named files and folders, tool configuration and dot-folders',
  check: (project) =>
    judgePaths(project, (path) => {
      const [top = '', ...below] = path.split('/')
      const isKnown = below.length > 0 ? TOP_FOLDERS.includes(top) : TOP_FILES.test(top)
      return top.startsWith('.') || isKnown ? undefined : 'does not belong at the top level'
    }),
  bites: [
    { 'public/icon.png': '' },
    { 'src/app/page.tsx': '' },
    { 'NOTES.md': '' },
    { 'scripts/run.sh': '' },
  ],
  passes: {
    'README.md': '',
    'lib/domain/calendar/date.ts': '',
    '.ci/run': '',
    'vitest.browser.config.ts': '',
  },
}

const WORD = '[a-z0-9]+(-[a-z0-9]+)*'
const SEGMENT = new RegExp(
  `^(${WORD}(\\.[a-z]{3,4})?|_components|\\[(\\.\\.\\.)?[a-zA-Z]+\\]|\\(${WORD}\\)|\\d{14}_[a-z0-9_]+|@${WORD})$`,
)
const FILE = new RegExp(`^(\\[[a-zA-Z]+\\]|${WORD})(\\.[a-z0-9-]+)*$`)
const NOT_OURS = /^(README\.md|DEVELOPERS\.md|migration_lock\.toml|\..*)$/

const namesAreKebabCase: Rule = {
  sentence: 'files and folders are kebab-case',
  check: (project) =>
    judgePaths(project, (path) => {
      const parts = path.split('/')
      const name = parts.pop() ?? ''
      // Fonts and their licences keep the names under which they were given.
      if (path.startsWith('lib/documents/fonts/') || path.startsWith('.')) return undefined
      if (!NOT_OURS.test(name) && !FILE.test(name)) return 'is not a kebab-case name'
      return parts.every((part) => SEGMENT.test(part))
        ? undefined
        : 'stands in a folder that is not kebab-case'
    }),
  bites: [
    { 'components/ui/DataTable.tsx': '' },
    { 'lib/domain/head_count/bar.ts': '' },
    { 'lib/domain/clock/dayClock.ts': '' },
  ],
  passes: {
    'app/w/[workspace]/egg-cases/[id]/page.tsx': '',
    'app/api/auth/[...nextauth]/route.ts': '',
    'prisma/migrations/20261125000000_tables/migration.sql': '',
    'tests/bench/day-sheet.server.bench.ts': '',
  },
}

const DRAWERS = /^(utils?|helpers?|types?|constants?|common|index|misc|shared|stuff|managers?|services?)$/

const nothingIsADrawer: Rule = {
  sentence: 'no file or folder is a drawer for whatever has no place',
  check: (project) =>
    judgePaths(project, (path) => {
      const drawer = path.split('/').find((part) => DRAWERS.test(part.replace(/\..*$/, '')))
      return drawer ? `${drawer} says nothing about what is in it` : undefined
    }),
  bites: [
    { 'lib/platform/utils.ts': '' },
    { 'components/common/button.tsx': '' },
    { 'lib/features/moult/types.ts': '' },
    { 'lib/domain/clock/index.ts': '' },
    { 'tests/helpers/database.ts': '' },
  ],
  passes: { 'lib/domain/calendar/date.ts': '' },
}

const ROLES = /(Manager|Helper|Helpers|Service|Util|Utils|Impl)$/

const nothingManages: Rule = {
  sentence: 'nothing is named Manager, Helper, Service or Util',
  check: (project) =>
    findInSyntax(
      project,
      () => true,
      (node) => {
        const isNamed =
          ts.isClassDeclaration(node) ||
          ts.isFunctionDeclaration(node) ||
          ts.isTypeAliasDeclaration(node) ||
          ts.isInterfaceDeclaration(node) ||
          ts.isVariableDeclaration(node)
        const name = isNamed ? node.name?.getText() : undefined
        return name && ROLES.test(name) ? `is named ${name}` : undefined
      },
    ),
  bites: [
    { 'lib/platform/mail.ts': 'export class MailService {}' },
    { 'lib/platform/mail.ts': 'const mailHelper = {}' },
  ],
  passes: { 'lib/platform/mail.ts': 'export function sendMail() {}' },
}

const nothingIsABarrel: Rule = {
  sentence: 'no file hands on what another one exports',
  check: (project) =>
    findInSyntax(
      project,
      (path) => !path.startsWith('tests/architecture/rules/'),
      (node, syntax, file) => {
        if (!ts.isExportDeclaration(node)) return undefined
        if (node.moduleSpecifier) return `hands on ${node.moduleSpecifier.getText(syntax)}`
        const imported = new Set(listImports(file).flatMap(({ names }) => names))
        const clause = node.exportClause
        const handedOn =
          clause && ts.isNamedExports(clause)
            ? clause.elements.find((element) => imported.has((element.propertyName ?? element.name).text))
            : undefined
        return handedOn ? `hands on ${handedOn.getText(syntax)}` : undefined
      },
    ),
  bites: [
    { 'lib/domain/calendar/all.ts': "export * from './date'" },
    { 'components/ui/all.ts': "export { Button } from './button'" },
    { 'components/ui/all.ts': "import { Button } from './button'\nexport { Button }" },
  ],
  passes: {
    'app/api/auth/[...nextauth]/route.ts': 'const handle = () => 1\nexport { handle as GET, handle as POST }',
  },
}

const SAME_IN_PLURAL = ['species', 'feeding', 'prey', 'stock']
const isPlural = (word: string) => /s$|people$/.test(word) || SAME_IN_PLURAL.includes(word)
const isSingular = (word: string) => !/[^s]s$/.test(word) || /(species|loss|process|series)$/.test(word)

const conceptsAreSingular: Rule = {
  sentence: 'concept folders are singular and routes with an id plural',
  check: (project) =>
    judgePaths(project, (path) => {
      const [, concept] = /^(?:lib\/(?:domain|features|documents)|components)\/([^/]+)\//.exec(path) ?? []
      if (concept && concept !== 'fonts' && !isSingular(concept)) return `${concept} is a plural`
      const [, segment] = /^app\/w\/\[workspace\]\/([^/]+)\/\[id\]/.exec(path) ?? []
      return segment && !isPlural(segment) ? `${segment} is a singular` : undefined
    }),
  bites: [
    { 'lib/features/moults/data.ts': '' },
    { 'components/egg-cases/list.tsx': '' },
    { 'app/w/[workspace]/zone/[id]/page.tsx': '' },
  ],
  passes: {
    'lib/features/species/data.ts': '',
    'lib/domain/calendar/date.ts': '',
    'app/w/[workspace]/egg-cases/[id]/page.tsx': '',
  },
}

const READS = /^(get|list|count|load|require|forecast|plan|solve|is|has|can|lock|open|end|take)([A-Z]|$)/
// The short list, and what is done to stays, people, sales and runs that none of its words says.
const WRITES =
  /^(create|update|archive|restore|record|require|reverse|undo|start|finish|end|return|accept|revoke|print|sign)([A-Z]|$)/

const verbsAreFew: Rule = {
  sentence: 'what data.ts, loaders.ts and mutations.ts export starts with a verb of the short list',
  check: (project) =>
    findInSyntax(
      project,
      (path) => /^lib\/features\/[^/]+\/(data|loaders|mutations)\.ts$/.test(path),
      (node, _syntax, file) => {
        if (!ts.isFunctionDeclaration(node) || !isExported(node)) return undefined
        const name = node.name?.text ?? ''
        if (!/^(Promise\b|$)/.test(node.type?.getText() ?? '')) return undefined
        const verbs = file.path.endsWith('mutations.ts') ? WRITES : READS
        return verbs.test(name) ? undefined : `${name} starts with no verb of the list`
      },
    ),
  bites: [
    { 'lib/features/moult/data.ts': 'export function fetchMoults() {}' },
    { 'lib/features/moult/mutations.ts': 'export function doMoult() {}' },
    { 'lib/features/moult/loaders.ts': 'export async function moults() {}' },
  ],
  passes: {
    'lib/features/moult/data.ts':
      'export function listMoults() {}\nfunction fold() {}\nexport function zoneOf(moult): string {}',
    'lib/features/moult/mutations.ts': 'export async function recordMoult() {}',
  },
}

export const nameRules = [
  topLevelIsFixed,
  namesAreKebabCase,
  nothingIsADrawer,
  nothingManages,
  nothingIsABarrel,
  conceptsAreSingular,
  verbsAreFew,
]
