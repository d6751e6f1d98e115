import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { type ColonyPage, loadColonyPage } from '@/lib/features/colony/loaders'
import { CloseColony } from './_components/close-colony'
import { CountTable } from './_components/count-table'
import { MoveColonyForm } from './_components/move-colony'
import { PutIn } from './_components/put-in'
import { RecordCount } from './_components/record-count'

export const metadata = { title: 'Colony' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function Colony({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadColonyPage(workspace, id)
  const { colony, today, mayWrite } = page
  return (
    <>
      <PageHeader
        title={colony.name}
        facts={
          <>
            <LatinName name={colony.scientificName} /> · {colony.kindName} · {colony.zoneName} · since{' '}
            {writeDay(colony.openedOn, today)}
            {colony.closedOn ? ` · closed ${writeDay(colony.closedOn, today)}` : ''}
          </>
        }
        parent={{ href: `/w/${workspace}/colonies`, label: 'Colonies' }}
        actions={mayWrite ? <RecordCount workspace={workspace} page={page} /> : null}
      />
      <p className="mt-5">
        <StateMark state={isCrowded(page) ? 'due' : 'fine'} word={sayRoom(page)} />
      </p>
      {page.span?.isTooWide ? (
        <div className="mt-4">
          <Notice
            state="late"
            what={`From ${page.span.least} to ${page.span.most}: more than one instar apart.`}
            why="Animals of different size may eat each other. Part the smallest or the largest today."
          />
        </div>
      ) : null}
      {mayWrite ? (
        <div className="no-print mt-5 flex flex-wrap gap-2">
          <PutIn workspace={workspace} page={page} />
          <LinkButton href={`/w/${workspace}/egg-cases/new?colony=${colony.id}`}>Egg case found</LinkButton>
          <MoveColonyForm workspace={workspace} page={page} />
          {colony.animals === 0 ? <CloseColony workspace={workspace} page={page} /> : null}
        </div>
      ) : null}
      <div className="mt-8 grid gap-10 desk:grid-cols-2">
        <CountTable page={page} />
        <Members workspace={workspace} page={page} />
      </div>
      <Laid workspace={workspace} page={page} />
    </>
  )
}

function isCrowded({ colony: { animals, capacity } }: ColonyPage): boolean {
  return capacity !== null && animals > capacity
}

function sayRoom({ colony: { animals, capacity } }: ColonyPage): string {
  if (animals === 0) return 'Nobody inside yet'
  const here = `${writeCount(animals, 'animal')} by the head counts`
  if (capacity === null) return here
  return animals > capacity
    ? `${here}: ${animals - capacity} more than there is room for at this size`
    : `${here}, room for ${capacity} at this size`
}

function Members({ workspace, page }: { workspace: string; page: ColonyPage }) {
  const { members } = page.colony
  return (
    <section>
      <h2 className="mb-2">Clutches inside</h2>
      {members.length === 0 ? (
        <p className="text-soft">Nobody yet. Put a clutch in that is together elsewhere.</p>
      ) : (
        <ul className="divide-y divide-line border-line border-y">
          {members.map((member) => (
            <li key={member.clutchId} className="py-2">
              <Link
                prefetch={false}
                href={`/w/${workspace}/clutches/${member.clutchId}`}
                className="target inline-flex items-center font-semibold"
              >
                {member.label}
              </Link>{' '}
              <span className="text-small text-soft">
                {member.together} together, since {writeDay(member.from, page.today)}
                {member.tooMany ? `; ${member.tooMany} more than there was room for` : ''}
                {member.overrideReason ? `: ${member.overrideReason}` : ''}
              </span>
            </li>
          ))}
        </ul>
      )}
      <p className="mt-2 text-small text-soft">
        Siblings of several clutches cannot be told apart: what leaves or dies is booked to the clutch you
        name.
      </p>
    </section>
  )
}

function Laid({ workspace, page }: { workspace: string; page: ColonyPage }) {
  const { eggCases } = page.colony
  if (eggCases.length === 0) return null
  return (
    <section className="mt-10">
      <h2 className="mb-2">Egg cases found here</h2>
      <ul className="divide-y divide-line border-line border-y">
        {eggCases.map(({ id, label, on }) => (
          <li key={id} className="py-1">
            <Link
              prefetch={false}
              href={`/w/${workspace}/egg-cases/${id}`}
              className="target inline-flex items-center"
            >
              {label}
            </Link>
            {on ? <span className="text-small text-soft"> {writeDay(on, page.today)}</span> : null}
          </li>
        ))}
      </ul>
    </section>
  )
}
