import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeCount } from '@/lib/domain/calendar/wording'
import { loadSeparationPlanPage } from '@/lib/features/separation-plan/loaders'
import { PlanBoard } from './_components/plan-board'

export const metadata = { title: 'Separation plan' }

type Props = { params: Promise<{ workspace: string }> }

export default async function SeparationPlanPage({ params }: Props) {
  const { workspace } = await params
  const page = await loadSeparationPlanPage(workspace)
  const { clutches } = page.room
  const together = clutches.reduce((sum, clutch) => sum + clutch.together, 0)
  return (
    <>
      <PageHeader
        title="Separation plan"
        facts={`${writeCount(together, 'animal')} together in ${clutches.length} ${clutches.length === 1 ? 'clutch' : 'clutches'}`}
        parent={{ href: `/w/${workspace}/clutches`, label: 'Clutches' }}
      />
      {clutches.length === 0 && page.leftOut.length === 0 ? (
        <EmptyScreen
          title="Nobody is together"
          action={<LinkButton href={`/w/${workspace}/egg-cases`}>To the egg cases</LinkButton>}
        >
          <p>
            Once a clutch has hatched, this page says on which evenings to part whom, with the hours and
            containers there are.
          </p>
        </EmptyScreen>
      ) : (
        <PlanBoard workspace={workspace} page={page} />
      )}
    </>
  )
}
