import { CohortPicture } from '@/components/cohort/cohort-picture'
import { sayCohort } from '@/lib/domain/cohort/course'
import { instarLabel } from '@/lib/domain/instar/label'
import type { ClutchPage } from '@/lib/features/clutch/loaders'

/** Stages in which the siblings are, were and will be: expected and seen. Shares under one in fifty are left out. */
export function Cohort({ page: { row, forecast, naming, cohort, today } }: { page: ClutchPage }) {
  if (!forecast || !cohort) return null
  const shares = forecast.sharesToday
    .map((share, moults) => ({ share, moults }))
    .filter(({ share }) => share >= 0.02)
  const stages = cohort.stages.map((moults) => ({ moults, label: instarLabel(moults, naming) }))
  return (
    <section className="mt-8">
      <h2>Stages over time</h2>
      {row.headCount.together > 0 ? (
        <p className="mt-1">
          Expected among those together today:{' '}
          {shares
            .map(
              ({ share, moults }) =>
                `${instarLabel(moults, naming)} ${Math.round(share * 100)} % (about ${Math.round(share * row.headCount.together)})`,
            )
            .join(', ')}
          .
        </p>
      ) : null}
      <p className="mt-1 mb-3 text-small text-soft">
        The hills are the shares expected, by the warmth since the hatch and what was seen. Dots are the
        animals parted, upright bars what was seen of those together. {sayCohort(cohort.course)}
      </p>
      <CohortPicture course={cohort.course} today={today} stages={stages} />
    </section>
  )
}
