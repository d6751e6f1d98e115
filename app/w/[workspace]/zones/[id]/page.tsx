import { PageHeader } from '@/components/ui/page-header'
import { Residents } from '@/components/zone/residents'
import { ZoneDaysPicture } from '@/components/zone/zone-days-picture'
import { writeDay } from '@/lib/domain/calendar/wording'
import { sayClimate } from '@/lib/domain/zone/climate-summary'
import { isQuarantined, sayQuarantine } from '@/lib/domain/zone/quarantine'
import { writeTemperature } from '@/lib/domain/zone/temperature-unit'
import { loadZonePage, readHistoryDays, type ZonePage } from '@/lib/features/zone/loaders'
import { ChangeTemperature } from '../_components/change-temperature'
import { Batches } from './_components/batches'
import { HistoryLegend, HistorySpan } from './_components/history-span'
import { Incidents } from './_components/incidents'
import { PasteReadings } from './_components/paste-readings'
import { SensorHelp } from './_components/sensor-help'
import { SetQuarantine } from './_components/set-quarantine'
import { TryAnother } from './_components/try-another'
import { TypeReading } from './_components/type-reading'
import { WatchPart } from './_components/watch-part'

export const metadata = { title: 'Zone' }

type Props = {
  params: Promise<{ workspace: string; id: string }>
  searchParams: Promise<{ days?: string }>
}

export default async function Zone({ params, searchParams }: Props) {
  const { workspace, id } = await params
  const page = await loadZonePage(workspace, id, readHistoryDays((await searchParams).days))
  const { zone, today, unit, inForce, mayWrite, summary } = page
  const mayChange = mayWrite && zone.archivedOn === null
  return (
    <>
      <PageHeader
        title={zone.name}
        facts={sayFacts(page)}
        parent={{ href: `/w/${workspace}/zones`, label: 'Zones' }}
        actions={
          mayChange ? (
            <>
              <SetQuarantine
                workspace={workspace}
                zone={zone}
                isIn={isQuarantined(zone.quarantineUntil, today)}
              />
              <ChangeTemperature {...{ workspace, zoneId: zone.id, name: zone.name, today, inForce, unit }} />
            </>
          ) : null
        }
      />
      <section className="mt-6">
        <HistorySpan workspace={workspace} zoneId={zone.id} days={summary.days} />
        <p className="mb-3">{sayClimate(summary, unit)}</p>
        <ZoneDaysPicture
          {...{
            days: page.days,
            setPoints: zone.setPoints,
            from: page.from,
            today,
            unit,
            limits: page.watch,
          }}
        />
        <HistoryLegend />
      </section>
      <div className="mt-10 grid gap-x-12 gap-y-10 desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <div className="min-w-0 space-y-10">
          <Residents
            workspace={workspace}
            zoneId={zone.id}
            residents={page.residents}
            title="Who lives here"
            empty="Nothing stands here. Animals, clutches and egg cases are moved here from their own pages."
          />
          <TryAnother workspace={workspace} zoneId={zone.id} inForce={inForce} unit={unit} />
          <WatchPart workspace={workspace} page={page} />
          <Incidents workspace={workspace} page={page} />
          <SensorHelp workspace={workspace} zoneId={zone.id} />
        </div>
        {mayChange ? (
          <section className="min-w-0">
            <h2 className="mb-3">Write down a reading</h2>
            <TypeReading workspace={workspace} zoneId={zone.id} today={today} unit={unit} />
            <div className="mt-4">
              <PasteReadings
                workspace={workspace}
                zoneId={zone.id}
                ground={{ timeZone: page.timeZone, setPoints: zone.setPoints }}
                unit={unit}
              />
            </div>
            <Batches workspace={workspace} page={page} />
          </section>
        ) : null}
      </div>
    </>
  )
}

function sayFacts({ zone, inForce, unit, today }: ZonePage): string {
  const set = inForce ? `set to ${writeTemperature(inForce.dayC, unit)}` : 'no temperature yet'
  const night =
    inForce && inForce.nightC !== null ? `, ${writeTemperature(inForce.nightC, unit)} by night` : ''
  const gone = zone.archivedOn ? ` · out of use since ${writeDay(zone.archivedOn, today)}` : ''
  const quarantine = sayQuarantine(zone.quarantineUntil, today)
  const why = zone.quarantineReason ? `: ${zone.quarantineReason}` : ''
  return `${set}${night}${quarantine ? ` · ${quarantine}${why}` : ''}${gone}`
}
