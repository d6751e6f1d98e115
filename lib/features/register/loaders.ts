import { isPlainDate, type PlainDate } from '@/lib/domain/calendar/date'
import { formatCode } from '@/lib/domain/label/code'
import { minorDigits } from '@/lib/domain/money/money'
import { isAllowed } from '@/lib/domain/role/permissions'
import { writeCsv } from '@/lib/domain/table/csv'
import {
  listMovements,
  listRegister,
  listTaxSums,
  type Period,
  type RegisterRow,
} from '@/lib/features/register/data'
import { loadPage } from '@/lib/platform/page'

export type AskedPeriod = { from: string | undefined; until: string | undefined }

/** The period that was asked for; this year so far where none was, or a day that is none. */
function readPeriod({ from, until }: AskedPeriod, today: PlainDate): Period {
  const last = isPlainDate(until) ? until : today
  const first = isPlainDate(from) ? from : `${last.slice(0, 4)}-01-01`
  return first <= last ? { from: first, until: last } : { from: last, until: first }
}

/** The registers of a period: animals by species, and sales by rate of tax. */
export function loadRegisterPage(slug: string, asked: AskedPeriod) {
  return loadPage({ slug, permission: 'register:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, name, currency } = workspace
    const period = readPeriod(asked, today)
    return {
      ...{ period, today, name, currency },
      animals: await listRegister(tx, workspaceId, period),
      taxes: await listTaxSums(tx, workspaceId, period),
      mayNameBuyers: isAllowed(scope.role, 'buyer:read'),
    }
  })
}
export type RegisterPage = Awaited<ReturnType<typeof loadRegisterPage>>

const MOST_MOVEMENTS = 50_000
export const REGISTER_FILES = ['animals', 'movements', 'taxes'] as const
export type RegisterFile = (typeof REGISTER_FILES)[number]

/** One register as a table for a spreadsheet. Buyers are named only for those who may see them, and only when asked. */
export function loadRegisterFile(
  slug: string,
  { file, hasBuyers, ...asked }: AskedPeriod & { file: RegisterFile; hasBuyers: boolean },
): Promise<{ text: string; name: string }> {
  return loadPage({ slug, permission: 'register:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, currency } = workspace
    const period = readPeriod(asked, today)
    const name = `${file}-${period.from}-${period.until}.csv`
    if (file === 'animals') return { name, text: writeAnimals(await listRegister(tx, workspaceId, period)) }
    if (file === 'taxes') {
      const digits = 10 ** minorDigits(currency)
      const sums = await listTaxSums(tx, workspaceId, period)
      const rows = sums.map(({ taxBasisPoints, netMinor, taxMinor, grossMinor }) => [
        ...[taxBasisPoints / 100, netMinor / digits, taxMinor / digits, grossMinor / digits],
        currency,
      ])
      return { name, text: writeCsv(['Rate %', 'Net', 'Tax', 'Gross', 'Currency'], rows) }
    }
    const named = hasBuyers && isAllowed(scope.role, 'buyer:read')
    const rows = await listMovements(tx, workspaceId, { ...period, hasBuyers: named, limit: MOST_MOVEMENTS })
    return {
      name,
      text: writeCsv(
        ['On', 'What', 'Species', 'Label', 'Animals', 'From or under', ...(named ? ['Buyer'] : [])],
        rows.map(({ on, what, scientificName, label, count, other, buyer }) => [
          ...[on, what, scientificName, formatCode(label), count, other],
          ...(named ? [buyer] : []),
        ]),
      ),
    }
  })
}

function writeAnimals(rows: readonly RegisterRow[]): string {
  const head = [
    'Species',
    'Before',
    'Born',
    'Received',
    'Sold',
    'Given away',
    'Died',
    'Escaped',
    'Unaccounted',
    'After',
  ]
  return writeCsv(
    head,
    rows.map((row) => [
      ...[row.scientificName, row.before, row.born, row.received, row.sold, row.givenAway],
      ...[row.died, row.escaped, row.unaccounted, row.after],
    ]),
  )
}
