import { Button } from '@/components/ui/button'
import { type Column, DataTable } from '@/components/ui/data-table'
import { DateField } from '@/components/ui/date-field'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { loadRegisterPage, type RegisterPage } from '@/lib/features/register/loaders'
import { SalesPlaces } from '../_components/sales-places'

export const metadata = { title: 'Registers' }

type Asked = Partial<Record<'from' | 'until', string | string[]>>
type Props = { params: Promise<{ workspace: string }>; searchParams: Promise<Asked> }

const textOf = (value: string | string[] | undefined) => (typeof value === 'string' ? value : undefined)

export default async function Registers({ params, searchParams }: Props) {
  const { workspace } = await params
  const { from, until } = await searchParams
  const page = await loadRegisterPage(workspace, { from: textOf(from), until: textOf(until) })
  const { period, mayNameBuyers } = page
  const query = `from=${period.from}&until=${period.until}`
  const file = (name: string) => `/w/${workspace}/sales/registers/${name}.csv?${query}`
  return (
    <>
      <PageHeader
        title="Registers"
        facts={`${page.name} · ${writeDay(period.from)} to ${writeDay(period.until)}`}
        actions={
          <>
            <LinkButton href={file('movements')} prefetch={false}>
              Each movement as CSV
            </LinkButton>
            {mayNameBuyers ? (
              <LinkButton href={`${file('movements')}&buyers=yes`} prefetch={false} kind="quiet">
                With buyers’ names
              </LinkButton>
            ) : null}
          </>
        }
      />
      <SalesPlaces workspace={workspace} current="/registers" />
      <form method="get" className="no-print mt-4 flex flex-wrap items-end gap-3">
        <DateField label="From" name="from" defaultValue={period.from} />
        <DateField label="Until" name="until" defaultValue={period.until} />
        <Button type="submit">Show it</Button>
      </form>
      <p className="mt-3 max-w-2xl text-small text-soft">
        Taken from the ledger, which is never edited. “Here after” is the stock on the evening of the last
        day, so any past day can be asked for. What was taken back counts on the day it was. Where your law
        wants the buyer named, the movements can be written with names.
      </p>
      <Animals page={page} address={file('animals')} />
      <Taxes page={page} address={file('taxes')} />
    </>
  )
}

type Row = RegisterPage['animals'][number]
const FIGURES: [head: string, field: Exclude<keyof Row, 'speciesId' | 'scientificName'>][] = [
  ['Here before', 'before'],
  ['Born', 'born'],
  ['Received', 'received'],
  ['Sold', 'sold'],
  ['Given away', 'givenAway'],
  ['Died', 'died'],
  ['Escaped', 'escaped'],
  ['Unaccounted', 'unaccounted'],
  ['Here after', 'after'],
]

function Animals({ page, address }: { page: RegisterPage; address: string }) {
  const columns: Column<Row>[] = [
    { head: 'Species', isRowHead: true, cell: ({ scientificName }) => <i>{scientificName}</i> },
    ...FIGURES.map(([head, field]) => ({ head, isFigure: true, cell: (row: Row) => row[field] })),
  ]
  return (
    <section className="mt-8">
      <div className="mb-2 flex flex-wrap items-end justify-between gap-3">
        <h2>Animals</h2>
        <LinkButton href={address} prefetch={false} kind="quiet" className="no-print">
          As CSV
        </LinkButton>
      </div>
      {page.animals.length === 0 ? (
        <p className="text-soft">No animal was here until that day.</p>
      ) : (
        <DataTable
          caption="Animals by species"
          columns={columns}
          rows={page.animals}
          rowKey={({ speciesId }) => speciesId}
        />
      )}
    </section>
  )
}

type Tax = RegisterPage['taxes'][number]

function Taxes({ page, address }: { page: RegisterPage; address: string }) {
  const say = (minor: number) => writeMoney(minor, page.currency, 'en')
  const columns: Column<Tax>[] = [
    { head: 'Rate', isRowHead: true, cell: ({ taxBasisPoints }) => `${taxBasisPoints / 100} %` },
    { head: 'Net', isFigure: true, cell: ({ netMinor }) => say(netMinor) },
    { head: 'Tax', isFigure: true, cell: ({ taxMinor }) => say(taxMinor) },
    { head: 'Paid', isFigure: true, cell: ({ grossMinor }) => say(grossMinor) },
  ]
  return (
    <section className="mt-10 max-w-2xl">
      <div className="mb-2 flex flex-wrap items-end justify-between gap-3">
        <h2>Sales by rate of tax</h2>
        <LinkButton href={address} prefetch={false} kind="quiet" className="no-print">
          As CSV
        </LinkButton>
      </div>
      {page.taxes.length === 0 ? (
        <p className="text-soft">Nothing was sold in these days.</p>
      ) : (
        <DataTable
          caption="Sales by rate of tax, less returns"
          columns={columns}
          rows={page.taxes}
          rowKey={({ taxBasisPoints }) => String(taxBasisPoints)}
        />
      )}
    </section>
  )
}
