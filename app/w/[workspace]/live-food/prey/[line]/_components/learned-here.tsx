import { roundFlies } from '@/lib/domain/culture/shelf'
import type { PreyLinePage } from '@/lib/features/prey/loaders'

/** What the harvests of this workspace say, beside the defaults, with how many jars it rests on. */
export function LearnedHere({ rooms }: Pick<PreyLinePage, 'rooms'>) {
  const known = rooms.filter(({ learned }) => learned && learned.cultures > 0)
  if (known.length === 0) return null
  return (
    <section className="mt-6 max-w-2xl">
      <h2>Learned here</h2>
      <ul aria-label="Learned here" className="divide-y divide-line border-line border-y">
        {known.map(({ zoneName, temperatureC, learned }) =>
          learned ? (
            <li key={zoneName} className="py-2">
              <p>
                {zoneName}, {Math.round(temperatureC * 10) / 10} °C: about {roundFlies(learned.mean)} a jar,
                differing by {Math.round(learned.cv * 100)} %, {sayDelay(learned.delayFactor)}.
              </p>
              <p className="text-small text-soft">
                {Math.round(learned.crashChance * 100)} in a hundred crash. From {learned.cultures} finished
                jars; the mean is known to within {Math.round(1.28 * learned.meanCv * 100)} %. Plans use this
                in place of the default.
              </p>
            </li>
          ) : null,
        )}
      </ul>
    </section>
  )
}

function sayDelay(factor: number): string {
  const percent = Math.round((factor - 1) * 100)
  if (percent === 0) return 'as early as the default'
  return percent > 0 ? `${percent} % later than the default` : `${-percent} % earlier than the default`
}
