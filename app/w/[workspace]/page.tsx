import type { ReactNode } from 'react'
import { DoubtfulDays } from '@/components/individual/doubtful-days'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { Task, TaskList } from '@/components/ui/task-list'
import { writeLongDay } from '@/lib/domain/calendar/wording'
import type { DayTask } from '@/lib/domain/day-sheet/task'
import { type DaySheetPage, type DayZone, loadDaySheet } from '@/lib/features/day-sheet/loaders'
import { DiscardsDone } from './_components/discards-done'
import { FoodTaskDone } from './_components/food-task-done'
import { OrderTaskDone } from './_components/order-task-done'
import { PrintButton } from './_components/print-button'
import { RestingAnimals } from './_components/resting-animals'

export const metadata = { title: 'Day sheet' }

type Props = { params: Promise<{ workspace: string }> }

/** The first screen: what will be lost first comes first. */
export default async function DaySheet({ params }: Props) {
  const { workspace } = await params
  const page = await loadDaySheet(workspace)
  const { tasks, resting, today, zones } = page
  return (
    <>
      <PageHeader
        title={writeLongDay(today)}
        facts={[page.workspaceName, ...zones.map((zone) => sayZone(zone, page.temperatureUnit))].join(' · ')}
        actions={
          <>
            {tasks.length > 0 ? <PrintButton /> : null}
            <LinkButton kind="quiet" href={`/w/${workspace}/reminders`}>
              By mail or calendar
            </LinkButton>
          </>
        }
      />
      {tasks.length === 0 ? (
        <NothingToDo workspace={workspace} page={page} />
      ) : (
        <TaskList label="Today">
          {tasks.map((task, position) => (
            <Task
              key={`${task.kind}-${task.title}`}
              state={task.state}
              title={task.title}
              reason={<Reason task={task} />}
              action={<TaskAction task={task} workspace={workspace} isFirst={position === 0} page={page} />}
            />
          ))}
        </TaskList>
      )}
      <RestingAnimals workspace={workspace} animals={resting} zones={zones} today={today} />
      <DoubtfulDays
        workspace={workspace}
        doubts={page.doubts}
        mayWrite={page.permissions.includes('individual:write')}
      />
    </>
  )
}

function sayZone({ name, dayC }: DayZone, unit: DaySheetPage['temperatureUnit']): string {
  if (dayC === null) return name
  const shown = unit === 'celsius' ? `${dayC} °C` : `${Math.round(dayC * 1.8 + 32)} °F`
  return `${name} ${shown}`
}

function Reason({ task }: { task: DayTask }) {
  return (
    <>
      {task.scientificName ? (
        <>
          <LatinName name={task.scientificName} />,{' '}
        </>
      ) : null}
      {task.why}
    </>
  )
}

type ActionProps = { task: DayTask; workspace: string; isFirst: boolean; page: DaySheetPage }

/** One action, and only for who may take it. The first of the day is the filled one. */
function TaskAction({ task, workspace, isFirst, page }: ActionProps): ReactNode {
  const base = `/w/${workspace}`
  const { subject, kind, state } = task
  const look = isFirst && state !== 'fine' && state !== 'leave-alone' ? 'hand' : 'plain'
  if (subject.type === 'cultures' && page.permissions.includes('live-food:write'))
    return <DiscardsDone workspace={workspace} cultures={subject.ids} look={look} />
  if ('ids' in subject) return <LinkButton href={whichOf(task, base)}>See which</LinkButton>
  if (subject.type === 'prey-line')
    return page.permissions.includes('live-food:write') ? (
      <FoodTaskDone
        workspace={workspace}
        task={{ kind: kind === 'order-prey' ? 'order' : 'start', line: subject.id, count: subject.count }}
        today={page.today}
        look={look}
      />
    ) : (
      <LinkButton href={`${base}/live-food/plan`}>See the plan</LinkButton>
    )
  if (subject.type === 'order')
    return page.permissions.includes('order:write') ? (
      <OrderTaskDone workspace={workspace} kind={kind} order={subject} today={page.today} look={look} />
    ) : null
  if (subject.type === 'incident')
    return (
      <LinkButton href={`${base}/incidents/${subject.id}`} kind={look}>
        What to do
      </LinkButton>
    )
  if (subject.type === 'egg-case')
    return (
      <LinkButton href={`${base}/egg-cases/${subject.id}`} kind={look}>
        {kind === 'hatch' && page.permissions.includes('egg-case:write') ? 'Record hatch' : 'Look at it'}
      </LinkButton>
    )
  return page.permissions.includes('clutch:write') ? (
    <LinkButton href={`${base}/clutches/${subject.id}/bench`} kind={look}>
      Open the bench
    </LinkButton>
  ) : (
    <LinkButton href={`${base}/clutches/${subject.id}`}>Look at it</LinkButton>
  )
}

function whichOf({ kind }: DayTask, base: string): string {
  if (kind === 'discard-cultures') return `${base}/live-food/cultures`
  return kind === 'leave-alone' ? '#alone' : '#skins'
}

function NothingToDo({ workspace, page }: { workspace: string; page: DaySheetPage }) {
  const { zones, permissions, isNew } = page
  if (!isNew)
    return (
      <EmptyScreen title="Nothing presses today">
        <p>No siblings have to be parted, no egg case is in its window, and nobody needs to be left alone.</p>
      </EmptyScreen>
    )
  if (zones.length === 0 && permissions.includes('zone:write'))
    return (
      <EmptyScreen
        title="A room first"
        action={
          <LinkButton href={`/w/${workspace}/zones`} kind="filled">
            Add a zone
          </LinkButton>
        }
      >
        <p>
          This page will say each morning what cannot wait. It reckons with warmth, so tell it which rooms or
          shelves you have and how warm they are.
        </p>
      </EmptyScreen>
    )
  return (
    <EmptyScreen
      title="Nothing is recorded yet"
      action={
        permissions.includes('egg-case:write') ? (
          <LinkButton href={`/w/${workspace}/egg-cases/new`} kind="filled">
            Record an egg case
          </LinkButton>
        ) : null
      }
    >
      <p>
        This page says each morning what cannot wait. Record an egg case, and it will tell you when to have
        cups and flies ready.
      </p>
    </EmptyScreen>
  )
}
