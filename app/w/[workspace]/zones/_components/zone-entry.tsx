import { writeDay } from '@/lib/domain/calendar/wording'
import type { SetPoint } from '@/lib/features/zone/data'
import type { ZoneOnPage } from '@/lib/features/zone/loaders'
import { ArchiveZone } from './archive-zone'
import { ChangeTemperature } from './change-temperature'
import { RenameZone } from './rename-zone'

type Props = { workspace: string; today: string; mayWrite: boolean; zone: ZoneOnPage }

export function ZoneEntry({ workspace, today, mayWrite, zone }: Props) {
  const { id, name, walkingOrder, version, inForce, planned, occupants } = zone
  const earlier = zone.setPoints.filter((setPoint) => setPoint.from < (inForce?.from ?? today)).reverse()
  const isEmpty = occupants.animals + occupants.clutches + occupants.eggCases === 0
  return (
    <li className="py-4">
      <div className="flex flex-wrap items-start justify-between gap-x-6 gap-y-2">
        <div className="min-w-0">
          <h2>{name}</h2>
          <p className="text-lead">{inForce ? sayTemperature(inForce) : 'no temperature yet'}</p>
          <p className="text-small text-soft">{sayOccupants(occupants)}</p>
        </div>
        {mayWrite ? (
          <div className="no-print -ms-4 flex flex-wrap desk:ms-0">
            <ChangeTemperature {...{ workspace, zoneId: id, name, today, inForce }} />
            <RenameZone workspace={workspace} zone={{ id, version, name, walkingOrder }} />
            {isEmpty ? <ArchiveZone workspace={workspace} zone={{ id, version }} name={name} /> : null}
          </div>
        ) : null}
      </div>
      <SetPoints title="Planned" setPoints={planned} today={today} />
      {earlier.length > 0 ? (
        <details className="mt-1">
          <summary className="target inline-flex items-center text-small text-soft">
            Set before ({earlier.length})
          </summary>
          <SetPoints title="Before" setPoints={earlier} today={today} />
        </details>
      ) : null}
    </li>
  )
}

function SetPoints({ title, setPoints, today }: { title: string; setPoints: SetPoint[]; today: string }) {
  if (setPoints.length === 0) return null
  return (
    <ul aria-label={title} className="mt-1 text-small text-soft">
      {setPoints.map((setPoint) => (
        <li key={setPoint.from}>
          from {writeDay(setPoint.from, today)}: {sayTemperature(setPoint)}
        </li>
      ))}
    </ul>
  )
}

function sayTemperature({ dayC, nightC }: SetPoint): string {
  return nightC === null ? `${dayC} °C` : `${dayC} °C by day, ${nightC} °C by night`
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
