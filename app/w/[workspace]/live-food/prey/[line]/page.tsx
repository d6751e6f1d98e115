import { PageHeader } from '@/components/ui/page-header'
import { saySource } from '@/lib/domain/care-profile/value'
import type { Figure } from '@/lib/domain/prey/figure'
import { loadPreyLinePage, type PreyLinePage } from '@/lib/features/prey/loaders'
import { ChangeFigure } from './_components/change-figure'
import { LearnedHere } from './_components/learned-here'
import { NewOrder } from './_components/new-order'
import { OrderDays } from './_components/order-days'
import { sayFigure } from './_components/say-figure'
import { StockForms } from './_components/stock-forms'

export const metadata = { title: 'Prey line' }

type Props = { params: Promise<{ workspace: string; line: string }> }

export default async function PreyLineScreen({ params }: Props) {
  const { workspace, line: slug } = await params
  const page = await loadPreyLinePage(workspace, slug)
  const { line, figures, mayWrite, rooms, currency, today } = page
  const common = { workspace, line: line.slug, name: line.name, today }
  return (
    <>
      <PageHeader
        title={line.name}
        parent={{ href: `/w/${workspace}/live-food/prey`, label: 'Prey lines' }}
        facts={sayFacts(page)}
        actions={mayWrite && line.kind !== 'culture' ? <NewOrder {...common} /> : null}
      />
      {mayWrite ? (
        <div className="no-print mt-4 flex flex-wrap gap-2">
          <StockForms {...common} />
        </div>
      ) : null}
      <LearnedHere rooms={rooms} />
      <section className="mt-8">
        <h2>Figures</h2>
        <p className="mb-3 max-w-2xl text-small text-soft">
          <strong className="text-ink">Default</strong> is common practice without one source.{' '}
          <strong className="text-ink">Published</strong> names who measured it. What you change is{' '}
          <strong className="text-ink">your own</strong> from then on; earlier versions are kept.
        </p>
        <ul aria-label={`Figures of ${line.name}`} className="divide-y divide-line border-line border-y">
          {figures.map((figure) => (
            <li
              key={figure.path}
              className="grid min-h-11 grid-cols-[minmax(0,1fr)_auto] items-center gap-x-4 py-1.5 desk:grid-cols-[minmax(0,5fr)_minmax(0,4fr)_minmax(0,6fr)_5rem]"
            >
              <p className="col-start-1 text-small text-soft desk:col-auto">{figure.label}</p>
              <p className="col-start-1 min-w-0 font-semibold desk:col-auto">{sayFigure(figure, currency)}</p>
              <p className="col-start-1 min-w-0 text-fine-print text-soft desk:col-auto">
                {saySource(figure.source, figure.note)}
              </p>
              {mayWrite ? (
                <div className="no-print col-start-2 row-span-3 row-start-1 -me-4 desk:col-auto desk:row-auto desk:me-0">
                  <Change {...{ workspace, figure, line, currency }} />
                </div>
              ) : null}
            </li>
          ))}
        </ul>
      </section>
    </>
  )
}

type ChangeProps = { workspace: string; figure: Figure; line: PreyLinePage['line']; currency: string }

function Change({ workspace, figure, line, currency }: ChangeProps) {
  const place = { workspace, line: line.slug, version: line.number }
  return figure.unit === 'weekdays' && Array.isArray(figure.value) ? (
    <OrderDays {...place} weekdays={figure.value} />
  ) : (
    <ChangeFigure {...place} figure={figure} now={sayFigure(figure, currency)} />
  )
}

function sayFacts({ line }: PreyLinePage): string {
  const kinds = { culture: 'cultured here', pupae: 'bought as pupae', bought: 'bought by size' }
  const version = line.number > 0 ? `figures, version ${line.number}` : 'figures as they are common'
  return `${kinds[line.kind]} · ${version} · ${line.kept ? 'planned with' : 'not planned with'}`
}
