import Link from 'next/link'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { type ColoniesPage, type ColonyView, loadColoniesPage } from '@/lib/features/colony/loaders'
import { BeginColony } from './_components/begin-colony'

export const metadata = { title: 'Colonies' }

type Props = { params: Promise<{ workspace: string }> }

export default async function Colonies({ params }: Props) {
  const { workspace } = await params
  const page = await loadColoniesPage(workspace)
  const open = page.colonies.filter(({ closedOn }) => closedOn === null)
  const begin =
    page.mayWrite && page.species.length > 0 && page.boxes.length > 0 ? (
      <BeginColony
        workspace={workspace}
        today={page.today}
        choices={page}
        isOnly={page.colonies.length === 0}
      />
    ) : null
  return (
    <>
      <PageHeader
        title="Colonies"
        facts={open.length > 0 ? (open.length === 1 ? '1 colony' : `${open.length} colonies`) : undefined}
        parent={{ href: `/w/${workspace}/containers`, label: 'Containers' }}
        actions={page.colonies.length > 0 ? begin : null}
      />
      {page.colonies.length === 0 ? (
        <NoColony workspace={workspace} page={page} begin={begin} />
      ) : (
        <ul aria-label="Colonies" className="divide-y divide-line">
          {page.colonies.map((colony) => (
            <ColonyEntry key={colony.id} workspace={workspace} colony={colony} today={page.today} />
          ))}
        </ul>
      )}
    </>
  )
}

function NoColony({
  workspace,
  page,
  begin,
}: {
  workspace: string
  page: ColoniesPage
  begin: React.ReactNode
}) {
  const missing =
    page.species.length === 0
      ? { href: `/w/${workspace}/species`, label: 'To the species' }
      : { href: `/w/${workspace}/containers`, label: 'To the containers' }
  return (
    <EmptyScreen
      title="No colony yet"
      action={
        begin ?? (
          <LinkButton href={missing.href} kind="filled">
            {missing.label}
          </LinkButton>
        )
      }
    >
      <p>
        {page.species.length === 0
          ? 'No care profile here allows animals to live together. Where your own experience says that a species does, say so on its page.'
          : 'A colony is one container in which clutches of a species live together that its care profile allows, nobody more than one instar from another.'}
      </p>
    </EmptyScreen>
  )
}

function ColonyEntry({ workspace, colony, today }: { workspace: string; colony: ColonyView; today: string }) {
  const { id, name, scientificName, zoneName, kindName, animals, capacity, closedOn, countedOn } = colony
  return (
    <li className="py-4">
      <h2>
        <Link href={`/w/${workspace}/colonies/${id}`} className="target inline-flex items-center">
          {name}
        </Link>
      </h2>
      <p className="text-small text-soft">
        <LatinName name={scientificName} /> · {kindName} · {zoneName}
      </p>
      <p className="mt-1 flex flex-wrap items-center gap-x-4">
        {closedOn ? (
          <span className="text-small text-soft">closed {writeDay(closedOn, today)}</span>
        ) : (
          <StateMark
            state={capacity !== null && animals > capacity ? 'due' : 'fine'}
            word={sayRoom(animals, capacity)}
          />
        )}
        <span className="text-small text-soft">
          {countedOn ? `counted ${writeDay(countedOn, today)}` : 'never counted'}
        </span>
      </p>
    </li>
  )
}

function sayRoom(animals: number, capacity: number | null): string {
  const here = writeCount(animals, 'animal')
  return capacity === null ? here : `${here}, room for ${capacity}`
}
