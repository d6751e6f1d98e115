import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { loadMoultRoundPage } from '@/lib/features/moult/loaders'
import { EarlierRounds } from './_components/earlier-rounds'
import { Round } from './_components/round'

export const metadata = { title: 'Moult round' }

type Props = { params: Promise<{ workspace: string }> }

export default async function MoultRoundPage({ params }: Props) {
  const { workspace } = await params
  const page = await loadMoultRoundPage(workspace)
  const { shelves, today, rounds } = page
  return (
    <>
      <PageHeader
        title="Moult round"
        facts="Tap the cups with a skin. Every other cup you pass counts as looked at."
      />
      {shelves.length === 0 ? (
        <EmptyScreen
          title="No nymph to look at yet"
          action={
            <LinkButton href={`/w/${workspace}/clutches`} kind="filled">
              To the clutches
            </LinkButton>
          }
        >
          <p>The round walks past every nymph in a cup of its own and every clutch together.</p>
        </EmptyScreen>
      ) : (
        <Round workspace={workspace} page={page} />
      )}
      <EarlierRounds
        workspace={workspace}
        rounds={rounds.map(({ on, ...round }) => ({ ...round, day: writeDay(on, today) }))}
      />
    </>
  )
}
