import { sayAnimals } from '@/lib/domain/separation/plan-words'
import type { SettledState } from './use-settled-plan'

type Props = { helps: { what: string; saves: number }[] | null; state: SettledState }

/** Less than this is said in one sentence: five lines of next to nothing would only hide it. */
const LEAST_SAVED = 0.75

/** Only from a plan made anew with each of them; while a slider moves nothing is promised. */
export function Helps({ helps, state }: Props) {
  const helping = helps?.filter(({ saves }) => saves >= LEAST_SAVED) ?? []
  return (
    <section>
      <h2>What would help most</h2>
      {helps === null ? (
        <p className="mt-1 text-small text-soft">
          {state === 'failed' ? 'Not known just now.' : 'Known as soon as the best plan is.'}
        </p>
      ) : helping.length === 0 ? (
        <p className="mt-1 text-small text-soft">No single hour or box of containers would save an animal.</p>
      ) : (
        <ol className="mt-1 divide-y divide-line">
          {helping.map(({ what, saves }) => (
            <li key={what} className="flex flex-wrap justify-between gap-x-4 py-2">
              <span className="first-letter:uppercase">{what}</span>
              <span className="font-semibold">saves {sayAnimals(saves)}</span>
            </li>
          ))}
        </ol>
      )}
    </section>
  )
}
