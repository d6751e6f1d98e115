import { LinkButton } from '@/components/ui/link-button'
import { Task, TaskList } from '@/components/ui/task-list'
import type { CheckedDay } from '@/lib/domain/dispatch/day'
import type { HeldUp } from '@/lib/domain/dispatch/days'
import { sayPacking } from '@/lib/domain/dispatch/gate'
import type { WayOut } from '@/lib/domain/dispatch/way-out'
import { sayFirstDay, sayHeldUp, sayWayOut, writeWeekday } from '@/lib/domain/dispatch/wording'
import type { OrderPage } from '@/lib/features/order/loaders'
import { TakeWayOut } from './take-way-out'
import { TypeAir } from './type-air'

type Props = { workspace: string; page: OrderPage }

/** The first days on which everything can go, and what keeps it here on the others. */
export function DispatchDays({ workspace, page }: Props) {
  const { dispatch, today, order } = page
  if (!dispatch) return null
  const { answer, ways, codes } = dispatch
  const names = { animal: (id: string) => codes[id] ?? '' }
  const offered = answer.days.slice(0, 3)
  return (
    <section className="mt-5">
      <h2 className="sr-only">When it can go</h2>
      <p className="max-w-2xl text-lead">{sayFirst(page)}</p>
      {offered.length > 0 ? (
        <TaskList label="Days on which it can go">
          {offered.map((day) => (
            <Task
              key={day.packOn}
              state={day.packOn === today ? 'due' : 'fine'}
              title={sayDay(day, page)}
              reason={sayPackingOf(day, names)}
            />
          ))}
        </TaskList>
      ) : null}
      {answer.heldUp.length > 0 ? (
        <>
          <h3 className="mt-5">
            {offered.length > 0 ? 'What is in the way on other days' : 'What is in the way'}
          </h3>
          <TaskList label="What is in the way">
            {answer.heldUp.map((held) => (
              <Task
                key={sayHeldUp(held, names, today)}
                state="leave-alone"
                title={sayHeldUp(held, names, today)}
                action={<LookAtIt workspace={workspace} held={held} />}
              />
            ))}
          </TaskList>
        </>
      ) : null}
      {page.mayWrite ? <Ways workspace={workspace} page={page} ways={ways} names={names} /> : null}
      {order.way === 'sent' && page.mayWrite ? <TypeAir workspace={workspace} page={page} /> : null}
    </section>
  )
}

function sayFirst({ dispatch, today, order }: OrderPage): string {
  if (!dispatch) return ''
  const first = dispatch.answer.days[0]
  if (order.way === 'sent' || !first) return sayFirstDay(dispatch.answer, today)
  return first.packOn === today
    ? 'Everything can be handed over today.'
    : `Everything can be handed over from ${writeWeekday(first.packOn, today)} on.`
}

function sayDay({ packOn, arriveOn }: CheckedDay, { today, order }: OrderPage): string {
  const day = writeWeekday(packOn, today)
  return order.way === 'sent' ? `${day}, arrives ${writeWeekday(arriveOn, today)}` : day
}

function sayPackingOf(day: CheckedDay, names: { animal: (id: string) => string }): string {
  if (day.going.length === 0) return 'There is no animal in it.'
  const least = Math.min(...day.going.map(({ chance }) => chance))
  const percent = Math.floor(100 * least)
  const sure =
    percent >= 99
      ? 'Every animal is well clear of a moult.'
      : `Every animal is clear of its moult with at least ${percent} %.`
  const packing =
    day.packing && day.missingAir === null ? ` Air ${day.packing.reason}: ${sayPacking(day.packing)}.` : ''
  const duties = day.going.flatMap(({ animal, duty }) => (duty ? [`${names.animal(animal)}: ${duty}.`] : []))
  return [`${sure}${packing}`, day.missingAir ?? '', ...duties].filter(Boolean).join(' ')
}

function LookAtIt({ workspace, held: { hold } }: { workspace: string; held: HeldUp }) {
  if (hold.by !== 'animal') return null
  return <LinkButton href={`/w/${workspace}/individuals/${hold.animal}`}>Look at it</LinkButton>
}

type WaysProps = Props & { ways: readonly WayOut[]; names: { animal: (id: string) => string } }

function Ways({ workspace, page, ways, names }: WaysProps) {
  if (ways.length === 0) return null
  return (
    <>
      <h3 className="mt-5">Ways out</h3>
      <TaskList label="Ways out">
        {ways.map((way) => (
          <Task
            key={way.kind}
            state="fine"
            title={sayWayOut(way, names, page.today)}
            action={way.kind === 'wait' ? null : <TakeWayOut workspace={workspace} page={page} way={way} />}
          />
        ))}
      </TaskList>
    </>
  )
}
