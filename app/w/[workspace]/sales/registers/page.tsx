import { Button } from '@/components/ui/button'
import { DateField } from '@/components/ui/date-field'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import { sayPaper } from '@/lib/domain/paper/paper'
import { loadRegisterPage, type RegisterPage } from '@/lib/features/register/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { figureColumns, RegisterPart } from './_components/register-part'

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
        Animals are taken from the ledger, which is never edited. “Here after” is the stock on the evening of
        the last day, so any past day can be asked for. What was taken back counts on the day it was. Where
        your law wants the buyer named, the movements can be written with names; papers stand beside what they
        came or went with.
      </p>
      <Animals page={page} address={file('animals')} />
      <EggCases page={page} address={file('egg-cases')} />
      <Jars page={page} address={file('culture-jars')} />
      <Papers page={page} address={file('papers')} />
      <Taxes page={page} address={file('taxes')} />
    </>
  )
}

type PartProps = { page: RegisterPage; address: string }
type Animal = RegisterPage['animals'][number]
const speciesColumn = {
  head: 'Species',
  isRowHead: true,
  cell: ({ scientificName }: { scientificName: string }) => <i>{scientificName}</i>,
}

function Animals({ page, address }: PartProps) {
  return (
    <RegisterPart
      title="Animals"
      caption="Animals by species"
      empty="No animal was here until that day."
      address={address}
      columns={[
        speciesColumn,
        ...figureColumns<Animal>([
          ['Here before', ({ before }) => before],
          ['Born', ({ born }) => born],
          ['Received', ({ received }) => received],
          ['Sold', ({ sold }) => sold],
          ['Given away', ({ givenAway }) => givenAway],
          ['Died', ({ died }) => died],
          ['Escaped', ({ escaped }) => escaped],
          ['Unaccounted', ({ unaccounted }) => unaccounted],
          ['Here after', ({ after }) => after],
        ]),
      ]}
      rows={page.animals}
      rowKey={({ speciesId }) => speciesId}
    />
  )
}

type EggCase = RegisterPage['eggCases'][number]

function EggCases({ page, address }: PartProps) {
  return (
    <RegisterPart
      title="Egg cases"
      caption="Egg cases by species"
      empty="No egg case was here until that day."
      address={address}
      columns={[
        speciesColumn,
        ...figureColumns<EggCase>([
          ['Here before', ({ before }) => before],
          ['Laid here', ({ laid }) => laid],
          ['Received', ({ received }) => received],
          ['Spent', ({ spent }) => spent],
          ['Infertile', ({ infertile }) => infertile],
          ['Wasps', ({ wasps }) => wasps],
          ['Thrown away', ({ discarded }) => discarded],
          ['Given away', ({ givenAway }) => givenAway],
          ['Sold', ({ sold }) => sold],
          ['Here after', ({ after }) => after],
        ]),
      ]}
      rows={page.eggCases}
      rowKey={({ speciesId }) => speciesId}
    />
  )
}

type Jar = RegisterPage['jars'][number]

function Jars({ page, address }: PartProps) {
  return (
    <RegisterPart
      title="Culture jars"
      caption="Culture jars by line"
      empty="No jar was here until that day."
      address={address}
      columns={[
        { head: 'Live food', isRowHead: true, cell: ({ name }) => name },
        ...figureColumns<Jar>([
          ['Here before', ({ before }) => before],
          ['From own', ({ started }) => started],
          ['From bought', ({ bought }) => bought],
          ['Sold', ({ sold }) => sold],
          ['Thrown away', ({ discarded }) => discarded],
          ['Here after', ({ after }) => after],
        ]),
      ]}
      rows={page.jars}
      rowKey={({ slug }) => slug}
    >
      <p className="mb-2 text-small text-soft">Started from own jars, or bought, or from bought starters.</p>
    </RegisterPart>
  )
}

function Papers({ page, address }: PartProps) {
  const { today } = page
  return (
    <RegisterPart
      title="Papers"
      caption="Papers of what came and went"
      empty="No paper was recorded with anything that came or went in these days."
      address={address}
      columns={[
        { head: 'Paper', isRowHead: true, cell: (paper) => sayPaper(paper, today) },
        {
          head: 'With',
          cell: ({ came, movedOn, receipt }) =>
            `${came ? 'came' : `receipt ${receipt},`} ${writeDay(movedOn, today)}`,
        },
        {
          head: 'Of',
          cell: ({ scientificName, label }) =>
            label === '' ? (
              'the whole receipt'
            ) : (
              <>
                {formatCode(label)} <i>{scientificName}</i>
              </>
            ),
        },
      ]}
      rows={page.papers}
      rowKey={({ id }) => id}
    />
  )
}

type Tax = RegisterPage['taxes'][number]

function Taxes({ page, address }: PartProps) {
  const say = (minor: number) => writeMoney(minor, page.currency, 'en')
  return (
    <RegisterPart
      title="Sales by rate of tax"
      caption="Sales by rate of tax, less returns"
      empty="Nothing was sold in these days."
      address={address}
      columns={[
        { head: 'Rate', isRowHead: true, cell: ({ taxBasisPoints }) => `${taxBasisPoints / 100} %` },
        ...figureColumns<Tax>([
          ['Net', ({ netMinor }) => say(netMinor)],
          ['Tax', ({ taxMinor }) => say(taxMinor)],
          ['Paid', ({ grossMinor }) => say(grossMinor)],
        ]),
      ]}
      rows={page.taxes}
      rowKey={({ taxBasisPoints }) => String(taxBasisPoints)}
    />
  )
}
