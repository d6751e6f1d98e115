import { instarLabel } from '@/lib/domain/instar/label'
import type { ClutchPage } from '@/lib/features/clutch/loaders'

/** Which stages the siblings are expected in today. Shares under one in fifty are left out. */
export function Cohort({ page: { row, forecast, naming } }: { page: ClutchPage }) {
  if (!forecast || row.headCount.together === 0) return null
  const shares = forecast.sharesToday
    .map((share, moults) => ({ share, moults }))
    .filter(({ share }) => share >= 0.02)
  return (
    <section className="mt-8">
      <h2>Expected among those together today</h2>
      <ul className="mt-2 max-w-md divide-y divide-line border-line border-y">
        {shares.map(({ share, moults }) => (
          <li key={moults} className="flex justify-between gap-4 py-2">
            <span>{instarLabel(moults, naming)}</span>
            <span>
              {Math.round(share * 100)} %{' '}
              <span className="text-small text-soft">about {Math.round(share * row.headCount.together)}</span>
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
