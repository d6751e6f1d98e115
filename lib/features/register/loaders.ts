import { isPlainDate, type PlainDate } from '@/lib/domain/calendar/date'
import { formatCode } from '@/lib/domain/label/code'
import { minorDigits } from '@/lib/domain/money/money'
import { listPapersInWords, PAPER_KIND_WORDS } from '@/lib/domain/paper/paper'
import { isAllowed } from '@/lib/domain/role/permissions'
import { writeCsv } from '@/lib/domain/table/csv'
import { listPreyLines } from '@/lib/features/prey/data'
import {
  type JarRegisterRow,
  listEggCaseRegister,
  listJarRegister,
  listMovements,
  listPaperRegister,
  listRegister,
  listTaxSums,
  type Period,
} from '@/lib/features/register/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage } from '@/lib/platform/page'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type AskedPeriod = { from: string | undefined; until: string | undefined }

/** The period that was asked for; this year so far where none was, or a day that is none. */
function readPeriod({ from, until }: AskedPeriod, today: PlainDate): Period {
  const last = isPlainDate(until) ? until : today
  const first = isPlainDate(from) ? from : `${last.slice(0, 4)}-01-01`
  return first <= last ? { from: first, until: last } : { from: last, until: first }
}

const SHOWN_PAPERS = 200

/** The registers of a period: animals, egg cases and jars, the papers with them, and sales by rate of tax. */
export function loadRegisterPage(slug: string, asked: AskedPeriod) {
  return loadPage({ slug, permission: 'register:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, name, currency } = workspace
    const period = readPeriod(asked, today)
    return {
      ...{ period, today, name, currency },
      animals: await listRegister(tx, workspaceId, period),
      eggCases: await listEggCaseRegister(tx, workspaceId, period),
      jars: await listNamedJars(tx, workspaceId, period),
      papers: await listPaperRegister(tx, workspaceId, { ...period, limit: SHOWN_PAPERS }),
      taxes: await listTaxSums(tx, workspaceId, period),
      mayNameBuyers: isAllowed(scope.role, 'buyer:read'),
    }
  })
}
export type RegisterPage = Awaited<ReturnType<typeof loadRegisterPage>>

async function listNamedJars(
  tx: Tx,
  workspaceId: WorkspaceId,
  period: Period,
): Promise<(JarRegisterRow & { name: string })[]> {
  const nameOf = await loadLineNames(tx, workspaceId)
  const jars = await listJarRegister(tx, workspaceId, period)
  return jars.map((row) => ({ ...row, name: nameOf.get(row.slug) ?? row.slug }))
}

async function loadLineNames(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, string>> {
  return new Map((await listPreyLines(tx, workspaceId)).map(({ line }) => [line.id, line.name]))
}

const MOST_MOVEMENTS = 50_000
export const REGISTER_FILES = [
  'animals',
  'egg-cases',
  'culture-jars',
  'movements',
  'papers',
  'taxes',
] as const
export type RegisterFile = (typeof REGISTER_FILES)[number]

type Writing = { tx: Tx; workspace: Workspace; period: Period; isNamed: boolean }

const WRITERS: Record<RegisterFile, (writing: Writing) => Promise<string>> = {
  animals: writeAnimals,
  'egg-cases': writeEggCases,
  'culture-jars': writeJars,
  movements: writeMovements,
  papers: writePapers,
  taxes: writeTaxes,
}

/** One register as a table for a spreadsheet. Buyers are named only for those who may see them, and only when asked. */
export function loadRegisterFile(
  slug: string,
  { file, hasBuyers, ...asked }: AskedPeriod & { file: RegisterFile; hasBuyers: boolean },
): Promise<{ text: string; name: string }> {
  return loadPage({ slug, permission: 'register:read' }, async ({ tx, workspace, scope }) => {
    const period = readPeriod(asked, workspace.today)
    const isNamed = hasBuyers && isAllowed(scope.role, 'buyer:read')
    const text = await WRITERS[file]({ tx, workspace, period, isNamed })
    return { name: `${file}-${period.from}-${period.until}.csv`, text }
  })
}

type Figures<Row> = readonly (readonly [head: string, field: keyof Row & string])[]

/** A row a species or line, and its figures. */
function writeFigures<Row extends object>(
  name: [head: string, of: (row: Row) => string],
  figures: Figures<Row>,
  rows: readonly Row[],
): string {
  const [head, nameOf] = name
  return writeCsv(
    [head, ...figures.map(([title]) => title)],
    rows.map((row) => [nameOf(row), ...figures.map(([, field]) => Number(row[field]))]),
  )
}

async function writeAnimals({ tx, workspace, period }: Writing): Promise<string> {
  return writeFigures(
    ['Species', ({ scientificName }) => scientificName],
    [
      ...([
        ['Before', 'before'],
        ['Born', 'born'],
        ['Received', 'received'],
        ['Sold', 'sold'],
      ] as const),
      ...([
        ['Given away', 'givenAway'],
        ['Died', 'died'],
        ['Escaped', 'escaped'],
      ] as const),
      ...([
        ['Unaccounted', 'unaccounted'],
        ['After', 'after'],
      ] as const),
    ],
    await listRegister(tx, workspace.workspaceId, period),
  )
}

async function writeEggCases({ tx, workspace, period }: Writing): Promise<string> {
  return writeFigures(
    ['Species', ({ scientificName }) => scientificName],
    [
      ...([
        ['Before', 'before'],
        ['Laid', 'laid'],
        ['Received', 'received'],
        ['Spent', 'spent'],
      ] as const),
      ...([
        ['Infertile', 'infertile'],
        ['Wasps', 'wasps'],
        ['Thrown away', 'discarded'],
      ] as const),
      ...([
        ['Given away', 'givenAway'],
        ['Sold', 'sold'],
        ['After', 'after'],
      ] as const),
    ],
    await listEggCaseRegister(tx, workspace.workspaceId, period),
  )
}

async function writeJars({ tx, workspace, period }: Writing): Promise<string> {
  return writeFigures(
    ['Live food', ({ name }) => name],
    [
      ...([
        ['Before', 'before'],
        ['From own', 'started'],
        ['From bought', 'bought'],
        ['Sold', 'sold'],
      ] as const),
      ...([
        ['Thrown away', 'discarded'],
        ['After', 'after'],
      ] as const),
    ],
    await listNamedJars(tx, workspace.workspaceId, period),
  )
}

async function writeTaxes({ tx, workspace, period }: Writing): Promise<string> {
  const { workspaceId, currency } = workspace
  const digits = 10 ** minorDigits(currency)
  const sums = await listTaxSums(tx, workspaceId, period)
  const rows = sums.map(({ taxBasisPoints, netMinor, taxMinor, grossMinor }) => [
    ...[taxBasisPoints / 100, netMinor / digits, taxMinor / digits, grossMinor / digits],
    currency,
  ])
  return writeCsv(['Rate %', 'Net', 'Tax', 'Gross', 'Currency'], rows)
}

async function writeMovements({ tx, workspace, period, isNamed }: Writing): Promise<string> {
  const { workspaceId } = workspace
  const nameOf = await loadLineNames(tx, workspaceId)
  const rows = await listMovements(tx, workspaceId, { ...period, hasBuyers: isNamed, limit: MOST_MOVEMENTS })
  return writeCsv(
    [
      ...['On', 'What', 'Of', 'Species or line', 'Label', 'Number', 'From or under', 'Papers'],
      ...(isNamed ? ['Buyer'] : []),
    ],
    rows.map(({ on, what, thing, name, label, count, other, papers, buyer }) => [
      ...[on, what, thing, nameOf.get(name) ?? name, formatCode(label), count, other],
      listPapersInWords(papers),
      ...(isNamed ? [buyer] : []),
    ]),
  )
}

async function writePapers({ tx, workspace, period }: Writing): Promise<string> {
  const rows = await listPaperRegister(tx, workspace.workspaceId, { ...period, limit: MOST_MOVEMENTS })
  return writeCsv(
    ['On', 'Came or went', 'Species', 'Label', 'Receipt', 'Paper', 'Number', 'Dated'],
    rows.map(({ movedOn, came, scientificName, label, receipt, kind, number, on }) => [
      ...[movedOn, came ? 'came' : 'went', scientificName, formatCode(label), receipt],
      ...[PAPER_KIND_WORDS[kind], number, on],
    ]),
  )
}
