import { StateMark } from '@/components/ui/state-mark'
import { daysBetween } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { sayJar } from '@/lib/domain/culture/shelf'
import type { JarOnPage } from '@/lib/features/culture/loaders'
import { JarEntry, stateOfJar } from './jar-entry'

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
  const alike = jars.filter((jar) => stateOfJar(jar) === stateOfJar(worst)).length
  const words = sayJar(worst.outlook, today)
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
          <StateMark
            state={stateOfJar(worst)}
            word={alike === jars.length ? words : `${alike} of them: ${words}`}
          />
        </summary>
        <ul className="divide-y divide-line ps-4">{entries}</ul>
      </details>
    </li>
  )
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
