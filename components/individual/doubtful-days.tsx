import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { formatCode } from '@/lib/domain/label/code'
import type { ShownDoubt } from '@/lib/features/growth-fit/schema'
import { DoubtActions } from './doubt-actions'

type Props = { workspace: string; doubts: readonly ShownDoubt[]; mayWrite: boolean; isNamed?: boolean }

/** Dates that are more likely a slip than true. Nothing is changed by itself, and forecasts lean on them little. */
export function DoubtfulDays({ workspace, doubts, mayWrite, isNamed = true }: Props) {
  if (doubts.length === 0) return null
  return (
    <section id="doubts" className="no-print mt-10 scroll-mt-4">
      <h2>Is this date right?</h2>
      <p className="mb-3 max-w-2xl text-small text-soft">
        {doubts.length === 1 ? 'One date does' : `${doubts.length} dates do`} not fit the rest of your
        records. Forecasts lean on {doubts.length === 1 ? 'it' : 'them'} as little as possible until somebody
        has looked.
      </p>
      <ul className="divide-y divide-line border-line border-y">
        {doubts.map((doubt) => (
          <li key={doubt.moultId} className="space-y-2 py-3">
            <p className="max-w-2xl">
              {isNamed ? (
                <>
                  <Link
                    prefetch={false}
                    href={`/w/${workspace}/individuals/${doubt.animalId}`}
                    className="target inline-flex items-center font-semibold tabular-nums"
                  >
                    {formatCode(doubt.label)}
                  </Link>{' '}
                  <LatinName name={doubt.scientificName} />
                  {'. '}
                </>
              ) : null}
              {doubt.sentence}
            </p>
            {mayWrite ? <DoubtActions workspace={workspace} doubt={doubt} /> : null}
          </li>
        ))}
      </ul>
    </section>
  )
}
