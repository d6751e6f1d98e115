import type { Fact } from '@/components/ui/fact-list'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { EggCasePage } from '@/lib/features/egg-case/loaders'
import { sayLaid } from '../../_components/egg-case-table'

/** What is on record, and what follows from it. What is not known is left out. */
export function listFacts(page: EggCasePage): Fact[] {
  const { row, zone, forecast, today } = page
  const facts: (Fact | null)[] = [
    { term: 'Laid', value: sayLaid(row, today) },
    row.laidOn && row.receivedOn ? { term: 'Came here', value: writeDay(row.receivedOn, today) } : null,
    zone ? { term: 'Hangs in', value: zone.name } : null,
    restFact(page),
    windowFact(page),
    forecast && row.hatches.length === 0
      ? {
          term: 'Nymphs',
          value: `about ${forecast.expectedNymphs.typical}`,
          note: `${forecast.expectedNymphs.low} to ${forecast.expectedNymphs.high} by the care profile, if it hatches`,
        }
      : null,
    forecast && row.hatches.length === 0
      ? { term: 'Chance of a hatch', value: `${Math.round(forecast.chanceStillHatches * 100)} %` }
      : null,
    row.motherLabel ? { term: 'Mother', value: row.motherLabel } : null,
    colonyFact(page),
    row.supplier ? { term: 'Supplier', value: row.supplier } : null,
    row.lot ? { term: 'Lot', value: row.lot } : null,
    row.notes ? { term: 'Notes', value: row.notes } : null,
  ]
  return facts.filter((fact) => fact !== null)
}

/** Nobody saw who laid it: its parents are among those who lived there. */
function colonyFact({ row, candidates }: EggCasePage): Fact | null {
  if (!row.colonyName) return null
  const note =
    candidates.length === 0
      ? undefined
      : `parents among ${candidates.map(({ label }) => label).join(', ')}, who lived there`
  return { term: 'Found in colony', value: row.colonyName, note }
}

function windowFact({ row, forecast, today }: EggCasePage): Fact | null {
  if (forecast?.status !== 'forecast' || row.hatches.length > 0) return null
  return {
    term: 'Window',
    value: `${writeDay(forecast.p10, today)} to ${writeDay(forecast.p90, today)}`,
    note: `most likely ${writeDay(forecast.p50, today)}; in eight of ten cases it is within these days`,
  }
}

function restFact({ row, today }: EggCasePage): Fact | null {
  if (!row.restStartOn) return null
  const from = writeDay(row.restStartOn, today)
  if (row.restEndedOn) return { term: 'Cold rest', value: `${from} to ${writeDay(row.restEndedOn, today)}` }
  const planned = row.restPlannedEndOn
  return {
    term: 'Cold rest',
    value: `since ${from}`,
    note: planned ? `planned until ${writeDay(planned, today)}` : 'no end planned yet',
  }
}
