import { EmptyScreen } from '@/components/ui/empty-screen'
import { PageHeader } from '@/components/ui/page-header'
import { loadZonesPage } from '@/lib/features/zone/loaders'
import { AddZone } from './_components/add-zone'
import { ZoneEntry } from './_components/zone-entry'

export const metadata = { title: 'Zones' }

type Props = { params: Promise<{ workspace: string }> }

export default async function ZonesPage({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, today, unit, mayWrite, zones } = await loadZonesPage(workspace)
  const add = mayWrite ? <AddZone workspace={workspace} unit={unit} /> : null
  return (
    <>
      <PageHeader
        title="Zones"
        facts={`${workspaceName} · rooms and shelves, each with the temperature it is set to`}
        actions={zones.length > 0 ? add : null}
      />
      {zones.length === 0 ? (
        <EmptyScreen title="No zone yet" action={add}>
          <p>
            A zone is a room or a shelf with a temperature of its own. Every forecast is made from the
            temperatures an animal lived through, so this comes first.
          </p>
        </EmptyScreen>
      ) : (
        <ul aria-label="Zones" className="divide-y divide-line">
          {zones.map((zone) => (
            <ZoneEntry key={zone.id} {...{ workspace, today, unit, mayWrite, zone }} />
          ))}
        </ul>
      )}
    </>
  )
}
