import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { type TemperatureUnit, writeTemperature } from '@/lib/domain/zone/temperature-unit'
import { loadZoneChange, sayPlanned, type ZoneChangePage } from '@/lib/features/zone-change/loaders'
import { readZoneChange } from '@/lib/features/zone-change/schema'
import { MoveTables } from './_components/move-tables'
import { SetIt } from './_components/set-it'
import { TryForm } from './_components/try-form'

export const metadata = { title: 'Another temperature' }

type Props = {
  params: Promise<{ workspace: string; id: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

/** What another temperature would do to the coming dates, before anybody turns a dial. */
export default async function WhatIf({ params, searchParams }: Props) {
  const { workspace, id } = await params
  const page = await loadZoneChange(workspace, id, readZoneChange(await searchParams))
  const { zone, unit, inForce, tried, isOutOfRange, mayWrite } = page
  const isSame = inForce?.dayC === tried.dayC && inForce.nightC === tried.nightC
  return (
    <>
      <PageHeader
        title={`${zone.name} at ${writeTemperature(tried.dayC, unit)}`}
        facts={`${sayTemperatures(tried, unit)} from today, instead of ${inForce ? sayTemperatures(inForce, unit) : 'none'}`}
        parent={{ href: `/w/${workspace}/zones/${zone.id}`, label: zone.name }}
        actions={
          mayWrite && !isSame && !isOutOfRange ? (
            <SetIt workspace={workspace} setPoint={{ zoneId: zone.id, from: page.today, ...tried }} />
          ) : null
        }
      />
      <TryForm workspace={workspace} zoneId={zone.id} tried={tried} unit={unit} />
      {isOutOfRange ? (
        <Notice state="late" what="No zone is set to that." why="Try something between −30 and 60 °C." />
      ) : (
        <>
          <Cautions page={page} />
          <MoveTables workspace={workspace} page={page} />
        </>
      )}
    </>
  )
}

function sayTemperatures(
  { dayC, nightC }: { dayC: number; nightC: number | null },
  unit: TemperatureUnit,
): string {
  const day = writeTemperature(dayC, unit)
  return nightC === null ? day : `${day} by day and ${writeTemperature(nightC, unit)} by night`
}

function Cautions({ page }: { page: ZoneChangePage }) {
  const { cautions, planned } = page
  return (
    <div className="mb-8 space-y-3">
      {cautions.length > 0 ? (
        <Notice
          state="due"
          what="Against it speaks what the care profiles say."
          why={
            <ul>
              {cautions.map((caution) => (
                <li key={caution}>{caution}</li>
              ))}
            </ul>
          }
        />
      ) : null}
      {planned.length > 0 ? (
        <p className="text-small text-soft">
          What is planned stays: {planned.map((setPoint) => sayPlanned(setPoint, page)).join('; ')}.
        </p>
      ) : null}
      <p className="text-small text-soft">
        Move a degree or two a day, and watch the animals rather than the dial. A heater wants a thermostat
        and a cut-out of its own; ask an electrician before more is plugged in.
      </p>
    </div>
  )
}
