import ts from 'typescript'
import { findInLines, findInSyntax, type Rule } from '../rule'

const isProduct = (path: string) => /^(app|components|lib|proxy\.ts|instrumentation\.ts)/.test(path)
const isCode = (path: string) => /\.(ts|tsx|mjs)$/.test(path)

const filesAreShort: Rule = {
  sentence: 'no file is longer than 400 lines',
  check: (project) =>
    project
      .filter(({ path }) => /\.(ts|tsx|mjs|css|prisma)$/.test(path))
      .map(({ path, text }) => ({
        path,
        line: text.split('\n').length,
        what: 'is the last line of a file too long',
      }))
      .filter(({ line }) => line > 401),
  bites: [{ 'lib/domain/clock/clock.ts': 'const a = 1\n'.repeat(401) }],
  passes: { 'lib/domain/clock/clock.ts': 'const a = 1\n'.repeat(400) },
}

const anyIsNoType: Rule = {
  sentence: 'any is no type, and no cast goes by way of unknown or never',
  check: (project) =>
    findInSyntax(project, isCode, (node, _syntax, { path }) => {
      if (node.kind === ts.SyntaxKind.AnyKeyword) return isAnyExcused(node, path) ? undefined : 'says any'
      if (!ts.isAsExpression(node) || path.startsWith('tests/')) return undefined
      const isDetour = ts.isAsExpression(node.expression) || /^(never|any)$/.test(node.type.getText())
      return isDetour ? 'casts past the compiler' : undefined
    }),
  bites: [
    { 'lib/platform/mail.ts': 'export const send = (mail: any) => mail' },
    { 'lib/platform/mail.ts': 'export const mail = read() as unknown as Mail' },
    { 'lib/platform/mail.ts': 'send(mail as never)' },
  ],
  passes: { 'lib/platform/mail.ts': "const words = ['any'] as const\ntype Company = unknown" },
}

/** A test may read an answer whose shape it knows, where the line above says so to the linter. */
function isAnyExcused(node: ts.Node, path: string): boolean {
  const syntax = node.getSourceFile()
  const line = syntax.getLineAndCharacterOfPosition(node.getStart()).line
  return path.startsWith('tests/') && (syntax.text.split('\n')[line - 1] ?? '').includes('noExplicitAny:')
}

const errorsAreNotSwallowed: Rule = {
  sentence: 'nothing is caught to become nothing',
  check: (project) =>
    findInSyntax(project, isProduct, (node, _syntax, { path }) => {
      if (path.startsWith('lib/ops/')) return undefined
      if (ts.isCatchClause(node)) {
        const [first, ...more] = node.block.statements
        const isEmpty = !first
        const isNothing =
          first && more.length === 0 && /^return( null| undefined)?$/.test(first.getText().replace(';', ''))
        return isEmpty || isNothing ? 'swallows an error' : undefined
      }
      const isCaught =
        ts.isCallExpression(node) &&
        ts.isPropertyAccessExpression(node.expression) &&
        node.expression.name.text === 'catch'
      if (!isCaught) return undefined
      const isNothing = /=>\s*(null|undefined|\{\s*\}|void 0)$/.test(node.arguments[0]?.getText() ?? '')
      return isNothing && !isExplained(node) ? 'swallows an error' : undefined
    }),
  bites: [
    { 'lib/platform/mail.ts': 'try {\n  send()\n} catch {}' },
    {
      'lib/platform/mail.ts':
        'export function read() {\n  try {\n    return get()\n  } catch (error) {\n    return null\n  }\n}',
    },
    { 'lib/platform/mail.ts': 'const mail = await read().catch(() => null)' },
  ],
  passes: {
    'lib/platform/mail.ts':
      "try {\n  send()\n} catch (error) {\n  log.error({ error }, 'not sent')\n}\nconst mail = await read().catch(() => null) // a forged address is no address",
  },
}

/** A promise may be let go of on one line, where that line says why. */
function isExplained(node: ts.Node): boolean {
  const text = node.getSourceFile().text
  const end = text.indexOf('\n', node.getEnd())
  return text.slice(node.getEnd(), end < 0 ? undefined : end).includes('//')
}

const schemasAreStrict: Rule = {
  sentence: 'an object that comes from outside is a strictObject: fields nobody knows are refused',
  check: (project) =>
    findInSyntax(
      project,
      (path) => isProduct(path) && path !== 'lib/platform/env.ts',
      (node) =>
        ts.isCallExpression(node) &&
        /^z\.(object|looseObject)$|\.(passthrough|loose|catchall)$/.test(node.expression.getText())
          ? `uses ${node.expression.getText().split('.').at(-1)}`
          : undefined,
    ),
  bites: [
    { 'lib/features/zone/schema.ts': 'export const zoneSchema = z.object({ name: z.string() })' },
    { 'lib/features/zone/schema.ts': 'export const zoneSchema = z.strictObject({}).passthrough()' },
  ],
  passes: { 'lib/features/zone/schema.ts': 'export const zoneSchema = z.strictObject({ name: z.string() })' },
}

const nothingIsLeftForLater: Rule = {
  sentence: 'nothing is left for later and no test is set aside',
  check: (project) =>
    findInLines(
      project,
      (path) => isCode(path) && !path.startsWith('tests/architecture/'),
      (line) =>
        /\b(TODO|FIXME|XXX|HACK)\b|not (yet )?implemented|@ts-(ignore|nocheck)/i.test(line)
          ? 'leaves something for later'
          : /\b(it|test|describe)\.(skip|only|todo|fails)\b|\bvi\.(mock|doMock)\(['"](@\/|\.)|\bxit\(/.test(
                line,
              )
            ? 'sets a test aside or fakes its world'
            : undefined,
    ),
  bites: [
    { 'lib/platform/mail.ts': '// TODO send it' },
    { 'lib/platform/mail.ts': "throw new Error('Not implemented')" },
    { 'tests/features/zone.test.ts': "it.skip('a zone has a name', () => {})" },
    { 'tests/features/zone.test.ts': "vi.mock('@/lib/platform/db')" },
    { 'lib/platform/mail.ts': '// @ts-ignore' },
  ],
  passes: { 'tests/features/zone.test.ts': "it('a zone has a name', () => {})" },
}

const secretsStayOnTheServer: Rule = {
  sentence: 'what runs in the browser imports nothing of the server',
  check: (project) =>
    project
      .filter(({ text }) => /^['"]use client['"]/.test(text))
      .flatMap(({ path, text }) =>
        text.split('\n').flatMap((line, index) => {
          const [, target = ''] = /from '@\/(lib\/[^']+)'/.exec(line) ?? []
          const isServer =
            /^lib\/(platform\/(?!action-result|issue-words|warned|errors)|documents|ops)|\/(data|loaders|mutations)$/.test(
              target,
            )
          return isServer && !/^import type/.test(line)
            ? [{ path, line: index + 1, what: `brings ${target} along` }]
            : []
        }),
      ),
  bites: [{ 'components/zone/form.tsx': "'use client'\nimport { env } from '@/lib/platform/env'" }],
  passes: {
    'components/zone/form.tsx':
      "'use client'\nimport type { ZoneRow } from '@/lib/features/zone/data'\nimport { zoneSchema } from '@/lib/features/zone/schema'",
    'app/page.tsx': "import { env } from '@/lib/platform/env'",
  },
}

export const habitRules = [
  filesAreShort,
  anyIsNoType,
  errorsAreNotSwallowed,
  schemasAreStrict,
  nothingIsLeftForLater,
  secretsStayOnTheServer,
]
