import { Moment } from '@/components/calendar/moment'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadAuditPage } from '@/lib/features/audit/loaders'

export const metadata = { title: 'What was done' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export default async function AuditPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const { workspaceName, timeZone, entries, older } = await loadAuditPage(workspace, await searchParams)
  return (
    <>
      <PageHeader
        title="What was done"
        facts={`${workspaceName} · every change, the newest first. Nothing here can be changed or removed.`}
        parent={{ href: `/w/${workspace}/settings`, label: 'Workspace' }}
      />
      <ol aria-label="What was done" className="divide-y divide-line">
        {entries.map(({ id, at, who, what, details }) => (
          <li key={id} className="grid grid-cols-1 gap-x-6 py-2.5 desk:grid-cols-[12rem_minmax(0,1fr)]">
            <p className="text-fine-print text-soft">
              <Moment at={at} timeZone={timeZone} />
              <br />
              {who}
            </p>
            <div className="min-w-0">
              <p className="font-semibold">{what}</p>
              {details.length > 0 ? <p className="text-small text-soft">{details.join(' · ')}</p> : null}
            </div>
          </li>
        ))}
      </ol>
      {older ? (
        <div className="mt-6">
          <LinkButton href={`/w/${workspace}/audit?before=${older}`}>Older</LinkButton>
        </div>
      ) : null}
    </>
  )
}
