import ts from 'typescript'
import { findInSyntax, type Rule } from '../rule'
import { listImports } from '../source/imports'
import { readDotted } from '../source/syntax'

const isCore = (path: string) => path.startsWith('lib/domain/')
const NUMBERS_AND_DATES = /^(temporal-polyfill|@stdlib\/[\w-]+|pure-rand|d3-array)(\/|$)/

const importsOnlyItself: Rule = {
  sentence: 'the core imports the core, dates and numbers only',
  check: (project) =>
    project
      .filter((file) => isCore(file.path))
      .flatMap((file) =>
        listImports(file)
          .filter(({ target, isPackage }) => (isPackage ? !NUMBERS_AND_DATES.test(target) : !isCore(target)))
          .map(({ written, line }) => ({ path: file.path, line, what: `imports ${written}` })),
      ),
  bites: [
    { 'lib/domain/clock/clock.ts': "import { z } from 'zod'" },
    { 'lib/domain/clock/clock.ts': "import type { Tx } from '@/lib/platform/db'" },
    { 'lib/domain/clock/clock.ts': "import fs from 'node:fs'" },
    { 'lib/domain/clock/clock.ts': "const { env } = await import('../../platform/env')" },
    { 'lib/domain/clock/clock.ts': "export type Row = import('@prisma/client').Prisma.Moult" },
  ],
  passes: {
    'lib/domain/clock/clock.ts':
      "import { Temporal } from 'temporal-polyfill'\nimport gamma from '@stdlib/stats-base-dists-gamma'\nimport { addDays } from '../calendar/date'\nimport { bisector } from 'd3-array'\nimport { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'",
  },
}

const touchesNothing: Rule = {
  sentence: 'the core waits for nothing and reads no clock, chance, environment or console',
  check: (project) => findInSyntax(project, isCore, (node) => findTouch(node)),
  bites: [
    { 'lib/domain/clock/clock.ts': 'export const today = () => new Date()' },
    { 'lib/domain/clock/clock.ts': 'export const now = () => Date.now()' },
    { 'lib/domain/clock/clock.ts': 'export const roll = () => Math.random()' },
    { 'lib/domain/clock/clock.ts': 'const { random } = Math' },
    { 'lib/domain/clock/clock.ts': 'export const limit = process.env.LIMIT' },
    { 'lib/domain/clock/clock.ts': 'export async function plan() {}' },
    { 'lib/domain/clock/clock.ts': 'export const plan = (): Promise<number> => later' },
    { 'lib/domain/clock/clock.ts': 'export const today = () => Temporal.Now.plainDateISO()' },
    { 'lib/domain/clock/clock.ts': 'console.log(1)' },
    { 'lib/domain/clock/clock.ts': 'export const id = () => crypto.randomUUID()' },
    { 'lib/domain/clock/clock.ts': 'export const wait = () => setTimeout(plan, 1)' },
  ],
  passes: {
    'lib/domain/clock/clock.ts':
      'export function addDays(on: string, process: number) {\n  const performance = Math.round(process)\n  return performance\n}',
    'lib/platform/clock.ts': 'export const now = async () => new Date()',
  },
}

const WORLD = new Set(['process', 'globalThis', 'console', 'fetch', 'crypto', 'performance', 'Promise'])
const WAITING = new Set(['setTimeout', 'setInterval', 'setImmediate', 'queueMicrotask'])

function findTouch(node: ts.Node): string | undefined {
  if (node.kind === ts.SyntaxKind.AsyncKeyword || ts.isAwaitExpression(node)) return 'waits'
  if (ts.isNewExpression(node) && node.expression.getText() === 'Date') return 'reads the clock'
  if (
    ts.isVariableDeclaration(node) &&
    node.initializer?.getText() === 'Math' &&
    node.name.getText().includes('random')
  )
    return 'takes chance'
  const dotted = readDotted(node)
  if (dotted === 'Math.random') return 'takes chance'
  if (dotted === 'Date.now' || dotted === 'Temporal.Now') return 'reads the clock'
  if (!ts.isIdentifier(node) || !isUse(node)) return undefined
  if (WAITING.has(node.text)) return `waits with ${node.text}`
  return WORLD.has(node.text) && reachesOut(node) ? `touches ${node.text}` : undefined
}

/** Not the name of a property, a parameter or a variable of the same spelling. */
function isUse(node: ts.Identifier): boolean {
  const { parent } = node
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node
  if (ts.isTypeReferenceNode(parent)) return true
  return ts.isCallExpression(parent) && parent.expression === node
}

function reachesOut(node: ts.Identifier): boolean {
  return (
    ts.isPropertyAccessExpression(node.parent) || ts.isCallExpression(node.parent) || node.text === 'Promise'
  )
}

export const pureCoreRules = [importsOnlyItself, touchesNothing]
