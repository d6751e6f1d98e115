import Link from 'next/link'
import { type State, StateMark } from '@/components/ui/state-mark'
import { daysBetween } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { roundFlies, sayJar } from '@/lib/domain/culture/shelf'
import type { JarOnPage } from '@/lib/features/culture/loaders'
import { MarkJar } from './mark-jar'
import { QuickHarvest } from './quick-harvest'

type Props = { workspace: string; today: string; mayWrite: boolean; jar: JarOnPage }

/** One line of the shelf: what it is, how far it is, and the harvest in one tap. */
export function JarEntry({ workspace, today, mayWrite, jar: onPage }: Props) {
  const { jar, outlook, lineName, suspectWords, ways } = onPage
  const age = daysBetween(jar.startedOn, today)
  return (
    <li className="flex flex-wrap items-center gap-x-4 gap-y-1 py-3">
      <div className="min-w-0 flex-1 basis-64">
        <p className="flex flex-wrap items-baseline gap-x-3">
          <Link
            href={`/w/${workspace}/live-food/cultures/${jar.id}`}
            prefetch={false}
            className="target inline-flex items-center font-semibold"
          >
            {jar.label}
          </Link>
          <span>{lineName}</span>
        </p>
        <p className="text-small text-soft">
          {age} days, since {writeDay(jar.startedOn, today)}. {sayTaken(outlook.taken)}
        </p>
        <p>
          <StateMark state={stateOfJar(onPage)} word={sayState(onPage, today)} />
        </p>
        {suspectWords ? <p className="text-small text-soft">{suspectWords}</p> : null}
        {ways.map((way) => (
          <p key={way} className="text-small text-soft">
            {way}
          </p>
        ))}
      </div>
      {mayWrite ? (
        <div className="no-print -ms-4 flex flex-wrap items-start desk:ms-0">
          {outlook.state === 'coming' ? null : (
            <QuickHarvest
              workspace={workspace}
              culture={jar.id}
              label={jar.label}
              today={today}
              about={usualHarvest(onPage)}
            />
          )}
          {jar.mitesOn ? null : (
            <MarkJar {...{ workspace, culture: jar.id, label: jar.label, today, mark: 'mites' }} />
          )}
        </div>
      ) : null}
    </li>
  )
}

function sayTaken(taken: number): string {
  return taken === 0 ? 'Nothing taken yet.' : `About ${roundFlies(taken)} taken.`
}

export function stateOfJar({ outlook }: Pick<JarOnPage, 'outlook'>): State {
  if (outlook.state === 'past' || outlook.state === 'crashed') return 'late'
  return outlook.suspicion ? 'due' : 'fine'
}

export function sayState(onPage: JarOnPage, today: string): string {
  const words = sayJar(onPage.outlook, today)
  return onPage.outlook.suspicion ? `suspect; ${words}` : words
}

/** What one usually takes at once: two days of what it gives now. */
function usualHarvest({ outlook, jar }: JarOnPage): number {
  const last = jar.harvests.at(-1)
  if (last) return last.count
  const coming = (outlook.ahead[0] ?? 0) + (outlook.ahead[1] ?? 0)
  return Math.max(10, roundFlies(coming))
}
