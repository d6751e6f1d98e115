import { StateMark } from '@/components/ui/state-mark'
import { daysBetween } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { JarOnPage } from '@/lib/features/culture/loaders'
import { JarEntry, sayState, stateOfJar } from './jar-entry'

type Props = { workspace: string; today: string; mayWrite: boolean; jars: JarOnPage[] }

/** As many as are listed one by one; more of one start are folded up. */
const FEW = 4

const ORDER = ['late', 'due', 'fine']

/** Jars of one line that were started on one day, with how the worst of them is. */
export function JarBatch({ jars, ...common }: Props) {
  const [first] = jars
  if (!first) return null
  const entries = jars.map((jar) => <JarEntry key={jar.jar.id} {...common} jar={jar} />)
  if (jars.length <= FEW) return entries
  const { today } = common
  const worst =
    jars.toSorted((a, b) => ORDER.indexOf(stateOfJar(a)) - ORDER.indexOf(stateOfJar(b)))[0] ?? first
  return (
    <li className="py-2">
      <details>
        <summary className="target">
          <span className="font-semibold">
            {jars.length} jars of {first.lineName}
          </span>
          <span className="block text-small text-soft">
            {daysBetween(first.jar.startedOn, today)} days, since {writeDay(first.jar.startedOn, today)}
          </span>
          <StateMark state={stateOfJar(worst)} word={sayBatch(jars, worst, today)} />
        </summary>
        <ul className="divide-y divide-line ps-4">{entries}</ul>
      </details>
    </li>
  )
}

/** How the worst is and how many are like it; of those that give, what all of them will. */
function sayBatch(jars: readonly JarOnPage[], worst: JarOnPage, today: string): string {
  const alike = jars.filter((jar) => stateOfJar(jar) === stateOfJar(worst)).length
  if (alike < jars.length) return `${alike} of them: ${sayState(worst, today)}`
  const left = jars.reduce((sum, { outlook }) => sum + outlook.left, 0)
  const mean = jars.reduce((sum, { outlook }) => sum + outlook.uncounted.mean, 0)
  const uncounted = { ...worst.outlook.uncounted, mean }
  return sayState({ ...worst, outlook: { ...worst.outlook, left, uncounted } }, today)
}

/** In the order in which they come. */
export function batchesOf(jars: readonly JarOnPage[]): JarOnPage[][] {
  const batches = new Map<string, JarOnPage[]>()
  for (const each of jars) {
    const key = `${each.jar.line} ${each.jar.startedOn}`
    batches.set(key, [...(batches.get(key) ?? []), each])
  }
  return [...batches.values()]
}
