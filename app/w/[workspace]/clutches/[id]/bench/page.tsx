import { buttonStyle } from '@/components/ui/button-style'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { type BenchStartPage, loadBenchStart } from '@/lib/features/separation/loaders'
import { StartRun } from './_components/start-run'

export const metadata = { title: 'Bench' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function BenchStart({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadBenchStart(workspace, id)
  const { clutch, kinds, zones, today } = page
  return (
    <>
      <PageHeader
        title={`Part ${clutch.label}`}
        facts={
          <>
            <LatinName name={page.scientificName} />, {clutch.counted ? '' : 'about '}
            {clutch.headCount.together} together
          </>
        }
        parent={{ href: `/w/${workspace}/clutches/${id}`, label: `Clutch ${clutch.label}` }}
      />
      <OpenRuns page={page} />
      {kinds.length === 0 ? (
        <EmptyScreen
          title="Which cups are there?"
          action={
            <LinkButton href={`/w/${workspace}/containers`} kind="filled">
              Add a kind of container
            </LinkButton>
          }
        >
          <p>Each nymph gets a cup of its own. Tell the service once what kinds stand on the shelf.</p>
        </EmptyScreen>
      ) : (
        <StartRun
          workspace={workspace}
          workspaceId={page.workspaceId}
          clutchId={id}
          today={today}
          together={clutch.headCount.together}
          kinds={kinds.map(({ id: value, name, free }) => ({
            value,
            label: name,
            hint: free > 0 ? `${free} free` : 'none free by the records',
          }))}
          zones={zones.map((zone) => ({ value: zone.id, label: zone.name }))}
          zoneId={page.zoneId}
          stages={page.stages.map(({ moults, label }) => ({
            value: String(moults),
            label: moults === page.likelyMoults ? `${label}, most likely` : label,
          }))}
          likelyMoults={page.likelyMoults}
        />
      )}
    </>
  )
}

function OpenRuns({ page }: { page: BenchStartPage }) {
  if (page.openRuns.length === 0) return null
  return (
    <section className="mt-6 mb-8">
      <h2 className="mb-2">Not finished</h2>
      <ul className="divide-y divide-line border-line border-y">
        {page.openRuns.map((run) => (
          <li key={run.id} className="flex flex-wrap items-center justify-between gap-3 py-2">
            <span>
              Run of {writeDay(run.on, page.today)}, {run.planned} planned
            </span>
            <a href={`/bench#${page.workspaceId}/${run.id}`} className={buttonStyle({})}>
              Go on with it
            </a>
          </li>
        ))}
      </ul>
    </section>
  )
}
