import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeCount } from '@/lib/domain/calendar/wording'
import { type HousingPage, loadHousingPage } from '@/lib/features/housing/loaders'
import { ContainerWeeks } from './_components/container-weeks'
import { MoveList } from './_components/move-list'
import { Shopping } from './_components/shopping'

export const metadata = { title: 'Housing' }

type Props = { params: Promise<{ workspace: string }> }

export default async function Housing({ params }: Props) {
  const { workspace } = await params
  const page = await loadHousingPage(workspace)
  return (
    <>
      <PageHeader
        title="Housing"
        facts={sayFacts(page)}
        parent={{ href: `/w/${workspace}/containers`, label: 'Containers' }}
      />
      {page.hasKinds ? (
        <div className="mt-4 space-y-10">
          <Moves workspace={workspace} page={page} />
          <Shopping workspace={workspace} page={page} />
          <ContainerWeeks page={page} />
        </div>
      ) : (
        <EmptyScreen
          title="No kind of container for one animal yet"
          action={
            <LinkButton href={`/w/${workspace}/containers`} kind="filled">
              Add a kind of container
            </LinkButton>
          }
        >
          <p>
            Say which cups and cages you have and how large they are inside. Then this page says who has to
            move up, by when, and what to buy.
          </p>
        </EmptyScreen>
      )}
    </>
  )
}

function sayFacts({ zones }: HousingPage): string {
  const moves = zones.flatMap((zone) => zone.moves)
  const tooSmall = moves.filter(({ urgency }) => urgency === 'now').length
  if (moves.length === 0) return 'Everyone has room, after the next moult too'
  const now = tooSmall > 0 ? `, ${tooSmall} of them now` : ''
  return `${writeCount(moves.length, 'animal')} to move up${now}`
}

function Moves({ workspace, page }: { workspace: string; page: HousingPage }) {
  if (page.zones.length === 0)
    return (
      <p className="text-soft">
        Nobody has to move up: every container is large enough for its animal, after the next moult too.
      </p>
    )
  return page.zones.map((zone) => <MoveList key={zone.id} workspace={workspace} page={page} zone={zone} />)
}
