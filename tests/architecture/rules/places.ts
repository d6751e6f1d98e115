import ts from 'typescript'
import { findInSyntax, type Offence, type Rule } from '../rule'
import { listImports } from '../source/imports'
import type { Project } from '../source/project'
import { readDotted } from '../source/syntax'

const RECORDS =
  /^(lib\/platform\/|lib\/features\/[^/]+\/(data|mutations)\.ts$|prisma\/seed\/|lib\/ops\/|tests\/)/
const DRIVERS = /^(pg|pg-copy-streams|@prisma\/[\w-]+|prisma|graphile-worker)(\/|$)/
const HANDLES = /^lib\/platform\/(generated\/prisma\/|db$|auth-database$)/

function findImports(project: Project, isBound: (target: string, isPackage: boolean) => boolean): Offence[] {
  return project.flatMap((file) =>
    listImports(file)
      .filter(({ target, isPackage, isTypeOnly }) => !isTypeOnly && isBound(target, isPackage))
      .map(({ written, line }) => ({ path: file.path, line, what: `imports ${written}` })),
  )
}

const databaseHasItsPlaces: Rule = {
  sentence:
    'only the platform, data.ts, mutations.ts, the seed, the scripts and the tests reach the database',
  check: (project) =>
    findImports(
      project.filter((file) => !RECORDS.test(file.path) && file.path !== 'prisma.config.ts'),
      (target, isPackage) => (isPackage ? DRIVERS.test(target) : HANDLES.test(target)),
    ),
  bites: [
    { 'app/w/[workspace]/page.tsx': "import { inTransaction } from '@/lib/platform/db'" },
    { 'lib/features/moult/loaders.ts': "import { Prisma } from '@/lib/platform/generated/prisma/client'" },
    { 'lib/features/moult/actions.ts': "import pg from 'pg'" },
    { 'components/moult/form.tsx': "import { authPool } from '../../lib/platform/auth-database'" },
    { 'lib/documents/label/render.ts': "import { PrismaPg } from '@prisma/adapter-pg'" },
  ],
  passes: {
    'lib/features/moult/data.ts': "import { Prisma } from '@/lib/platform/generated/prisma/client'",
    'lib/features/moult/mutations.ts': "import { inTransaction } from '@/lib/platform/db'",
    'lib/features/moult/loaders.ts': "import type { Tx } from '@/lib/platform/db'",
    'lib/ops/seed.ts': "import pg from 'pg'",
  },
}

const transactionsArePassedOn: Rule = {
  sentence: 'a transaction is only passed on outside data.ts and mutations.ts, never asked anything',
  check: (project) =>
    findInSyntax(
      project,
      (path) => !RECORDS.test(path),
      (node) =>
        ts.isPropertyAccessExpression(node) && node.expression.getText() === 'tx'
          ? `asks the transaction for ${node.name.text}`
          : undefined,
    ),
  bites: [
    { 'lib/features/moult/loaders.ts': 'export const loadMoults = (tx) => tx.moult.findMany()' },
    {
      'app/api/v1/moults/route.ts':
        'export const GET = apiRoute(moultApi, ({ tx }) => tx.$queryRaw`select 1`)',
    },
  ],
  passes: {
    'lib/features/moult/loaders.ts':
      'export const loadMoults = (tx, workspaceId) => listMoults(tx, workspaceId)',
    'lib/features/moult/data.ts': 'export const listMoults = (tx, workspaceId) => tx.moult.findMany({})',
  },
}

const ENVIRONMENT = /^(lib\/platform\/env\.ts$|lib\/ops\/|tests\/|[\w.]+\.config\.(ts|mjs)$)/

const environmentHasItsPlace: Rule = {
  sentence: 'the environment is read in one file, the scripts and the configuration of tools',
  check: (project) =>
    findInSyntax(
      project,
      (path) => !ENVIRONMENT.test(path),
      (node, _syntax, file) => {
        if (!ts.isPropertyAccessExpression(node) || readDotted(node) !== 'process.env') return undefined
        // The framework replaces this very expression while it builds, so it cannot stand anywhere else.
        const isRuntimeQuestion = node.parent.getText() === 'process.env.NEXT_RUNTIME'
        return file.path === 'instrumentation.ts' && isRuntimeQuestion ? undefined : 'reads process.env'
      },
    ),
  bites: [
    { 'lib/platform/mail.ts': 'export const address = process.env.SMTP_URL' },
    { 'lib/features/zone/data.ts': "export const limit = process.env['LIMIT']" },
    { 'components/ui/button.tsx': 'const { NODE_ENV } = process.env' },
    { 'instrumentation.ts': 'export const register = () => process.env.SMTP_URL' },
  ],
  passes: {
    'lib/platform/env.ts': 'export const env = () => process.env.SMTP_URL',
    'vitest.config.ts': "process.env.TZ = 'UTC'",
    'instrumentation.ts': "if (process.env.NEXT_RUNTIME === 'nodejs') start()",
  },
}

export const placeRules = [databaseHasItsPlaces, transactionsArePassedOn, environmentHasItsPlace]
