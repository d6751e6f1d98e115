import Link from 'next/link'
import { writeDay } from '@/lib/domain/calendar/wording'
import { sayQuarantine } from '@/lib/domain/zone/quarantine'
import { type TemperatureUnit, writeTemperature } from '@/lib/domain/zone/temperature-unit'
import type { SetPoint } from '@/lib/features/zone/data'
import type { ZoneOnPage } from '@/lib/features/zone/loaders'
import { ArchiveZone } from './archive-zone'
import { ChangeTemperature } from './change-temperature'
import { RenameZone } from './rename-zone'

type Props = { workspace: string; today: string; unit: TemperatureUnit; mayWrite: boolean; zone: ZoneOnPage }

export function ZoneEntry({ workspace, today, unit, mayWrite, zone }: Props) {
  const { id, name, walkingOrder, version, inForce, planned, occupants } = zone
  const earlier = zone.setPoints.filter((setPoint) => setPoint.from < (inForce?.from ?? today)).reverse()
  const quarantine = sayQuarantine(zone.quarantineUntil, today)
  const isEmpty = occupants.animals + occupants.clutches + occupants.eggCases === 0
  return (
    <li className="py-4">
      <div className="flex flex-wrap items-start justify-between gap-x-6 gap-y-2">
        <div className="min-w-0">
          <h2>
            <Link
              href={`/w/${workspace}/zones/${id}`}
              prefetch={false}
              className="target inline-flex items-center"
            >
              {name}
            </Link>
          </h2>
          <p className="text-lead">{inForce ? sayTemperature(inForce, unit) : 'no temperature yet'}</p>
          <p className="text-small text-soft">
            {sayOccupants(occupants)}
            {quarantine ? ` ${quarantine.charAt(0).toUpperCase()}${quarantine.slice(1)}.` : ''}
          </p>
        </div>
        {mayWrite ? (
          <div className="no-print -ms-4 flex flex-wrap desk:ms-0">
            <ChangeTemperature {...{ workspace, zoneId: id, name, today, inForce, unit }} />
            <RenameZone workspace={workspace} zone={{ id, version, name, walkingOrder }} />
            {isEmpty ? <ArchiveZone workspace={workspace} zone={{ id, version }} name={name} /> : null}
          </div>
        ) : null}
      </div>
      <SetPoints title="Planned" setPoints={planned} today={today} unit={unit} />
      {earlier.length > 0 ? (
        <details className="mt-1">
          <summary className="target inline-flex items-center text-small text-soft">
            Set before ({earlier.length})
          </summary>
          <SetPoints title="Before" setPoints={earlier} today={today} unit={unit} />
        </details>
      ) : null}
    </li>
  )
}

type SetPointsProps = { title: string; setPoints: SetPoint[]; today: string; unit: TemperatureUnit }

function SetPoints({ title, setPoints, today, unit }: SetPointsProps) {
  if (setPoints.length === 0) return null
  return (
    <ul aria-label={title} className="mt-1 text-small text-soft">
      {setPoints.map((setPoint) => (
        <li key={setPoint.from}>
          from {writeDay(setPoint.from, today)}: {sayTemperature(setPoint, unit)}
        </li>
      ))}
    </ul>
  )
}

function sayTemperature({ dayC, nightC }: SetPoint, unit: TemperatureUnit): string {
  const day = writeTemperature(dayC, unit)
  return nightC === null ? day : `${day} by day, ${writeTemperature(nightC, unit)} by night`
}

function sayOccupants({ animals, clutches, eggCases }: ZoneOnPage['occupants']): string {
  const said = [
    count(animals, 'animal', 'animals'),
    count(clutches, 'clutch together', 'clutches together'),
    count(eggCases, 'egg case', 'egg cases'),
  ].filter(Boolean)
  return said.length === 0 ? 'Nothing stands here.' : said.join(', ')
}

function count(number: number, one: string, many: string): string {
  return number === 0 ? '' : `${number} ${number === 1 ? one : many}`
}
