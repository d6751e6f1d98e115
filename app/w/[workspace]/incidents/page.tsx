import Link from 'next/link'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadIncidentsPage } from '@/lib/features/incident/loaders'

export const metadata = { title: 'Incidents' }

type Props = { params: Promise<{ workspace: string }> }

export default async function Incidents({ params }: Props) {
  const { workspace } = await params
  const { incidents } = await loadIncidentsPage(workspace)
  return (
    <>
      <PageHeader
        title="Incidents"
        facts="Times in which a watched zone was too hot, too cold or sent nothing"
        parent={{ href: `/w/${workspace}/zones`, label: 'Zones' }}
      />
      {incidents.length === 0 ? (
        <EmptyScreen
          title="Nothing has happened"
          action={
            <LinkButton href={`/w/${workspace}/zones`} kind="filled">
              Choose a zone to watch
            </LinkButton>
          }
        >
          <p>
            Give a zone an upper and a lower limit on its page, and people here are called when it leaves
            them.
          </p>
        </EmptyScreen>
      ) : (
        <ul className="divide-y divide-line">
          {incidents.map(({ id, said, span, takenAt, takenByName }) => (
            <li key={id}>
              <Link
                href={`/w/${workspace}/incidents/${id}`}
                prefetch={false}
                className="target flex flex-wrap items-center gap-x-4 py-2"
              >
                <span className="font-semibold">{said}</span>
                <span className="text-small text-soft">{span}</span>
                <span className="text-small text-soft">
                  {takenAt ? `${takenByName ?? 'Somebody'} looked after it` : 'nobody has looked yet'}
                </span>
              </Link>
            </li>
          ))}
        </ul>
      )}
    </>
  )
}
