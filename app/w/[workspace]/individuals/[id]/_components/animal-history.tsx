import Link from 'next/link'
import type { ReactNode } from 'react'
import { writeDay } from '@/lib/domain/calendar/wording'
import { LOSS_CAUSE_WORDS } from '@/lib/domain/head-count/loss-cause'
import { GROWTH_SIGN_WORDS } from '@/lib/domain/individual/growth-sign'
import type { IndividualPage } from '@/lib/features/individual/loaders'
import { MOULT_OUTCOME_WORDS } from '@/lib/features/moult/schema'
import { ArchiveMoult } from './archive-moult'
import { ArchiveSigns } from './seen-signs'

type Props = { workspace: string; page: IndividualPage }

/** Everything that is on record about it, newest first. */
export function AnimalHistory({ workspace, page }: Props) {
  return (
    <section className="mt-10">
      <h2>Its story</h2>
      <div className="mt-2 grid gap-x-10 gap-y-6 desk:grid-cols-2">
        <div>
          <Part title="Moults" rows={moultRows(page, workspace)} />
          {page.animal.signs.length > 0 ? (
            <div className="mt-6">
              <Part title="Signs" rows={signRows(page, workspace)} />
            </div>
          ) : null}
        </div>
        {page.history.takenOver ? <Part title="Before it came here" rows={earlierRows(page)} /> : null}
        <Part title="Where it was" rows={[...entryRows(page, workspace), ...stayRows(page)]} />
        <Part title="Fed" rows={feedingRows(page)} />
      </div>
    </section>
  )
}

type Row = { key: string; on: string; text: ReactNode }

function Part({ title, rows }: { title: string; rows: Row[] }) {
  return (
    <div>
      <h3 className="mb-1.5 font-semibold">{title}</h3>
      {rows.length === 0 ? (
        <p className="py-2 text-small text-soft">Nothing yet.</p>
      ) : (
        <ul className="divide-y divide-line border-line border-y">
          {rows.map(({ key, on, text }) => (
            <li key={key} className="grid grid-cols-[6rem_1fr] gap-x-3 py-2 text-small">
              <span className="text-soft tabular-nums">{on}</span>
              <div className="min-w-0">{text}</div>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

function moultRows({ animal, today, may }: IndividualPage, workspace: string): Row[] {
  const last = animal.moults.at(-1)
  return [...animal.moults].reverse().map((moult) => ({
    key: moult.id,
    on: writeDay(moult.on, today),
    text: (
      <>
        {moult.final ? 'The final moult. ' : `Moult ${moult.number}. `}
        {moult.outcome === 'good' ? '' : `${MOULT_OUTCOME_WORDS[moult.outcome]}. `}
        {moult.seenFrom ? `Last seen without it on ${writeDay(moult.seenFrom, today)}. ` : ''}
        {moult.note}
        {may.write && moult === last ? (
          <ArchiveMoult workspace={workspace} moult={moult.id} version={moult.version} />
        ) : null}
      </>
    ),
  }))
}

/** As the other side had it on the day it was handed over. */
function earlierRows({ history, today }: IndividualPage): Row[] {
  const { from, record } = history.takenOver ?? {}
  if (!record) return []
  const moults = record.pastMoults.map(({ number, on, outcome, note }) => ({
    key: `moult ${number}`,
    on: writeDay(on, today),
    text: [`Moult ${number}.`, outcome === 'good' ? '' : `${MOULT_OUTCOME_WORDS[outcome]}.`, note]
      .filter(Boolean)
      .join(' '),
  }))
  const hatched = record.hatchedOn
    ? [
        {
          key: 'hatched',
          on: writeDay(record.hatchedOn, today),
          text: `Hatched in ${record.clutch} of ${from}`,
        },
      ]
    : []
  const fed = record.lastFed
    ? [{ key: 'fed', on: writeDay(record.lastFed.on, today), text: `Last fed there: ${record.lastFed.prey}` }]
    : []
  return [...fed, ...moults.toReversed(), ...hatched]
}

/** A day at a time: what one look showed is taken back together. */
function signRows({ animal, today, may }: IndividualPage, workspace: string): Row[] {
  const days = [...new Set(animal.signs.map(({ on }) => on))].sort().reverse()
  return days.map((on) => {
    const seen = animal.signs.filter((sign) => sign.on === on).map(({ kind }) => GROWTH_SIGN_WORDS[kind])
    return {
      key: on,
      on: writeDay(on, today),
      text: (
        <>
          {seen.join(', ')}
          {may.write ? <ArchiveSigns workspace={workspace} individual={animal.id} on={on} /> : null}
        </>
      ),
    }
  })
}

const STATE_WORDS: Record<string, string> = {
  uncounted: 'elsewhere',
  together: 'with its siblings',
  single: 'here, by itself',
  sold: 'sold',
  given_away: 'given away',
  dead: 'dead',
  escaped: 'escaped',
  unaccounted: 'unaccounted for',
}

function entryRows({ history, today }: IndividualPage, workspace: string): Row[] {
  return history.entries.map((entry) => {
    const sale = history.sales.find(
      ({ on, isReversed }) => entry.to === 'sold' && on === entry.on && isReversed === entry.isReversed,
    )
    const cause =
      entry.cause && entry.cause !== 'unknown' ? `: ${LOSS_CAUSE_WORDS[entry.cause].toLowerCase()}` : ''
    const how = entry.isReversal
      ? `taken back, ${STATE_WORDS[entry.to]} again`
      : `${STATE_WORDS[entry.to]}${cause}`
    return {
      key: entry.id,
      on: writeDay(entry.on, today),
      text: (
        <span className={entry.isReversed ? 'line-through' : undefined}>
          {how}
          {entry.note ? ` (${entry.note})` : ''}
          {entry.by ? <span className="text-soft">, by {entry.by}</span> : null}
          {sale ? (
            <>
              {', '}
              <Link href={`/w/${workspace}/sales/${sale.id}`}>receipt {sale.receiptNumber}</Link>
            </>
          ) : null}
        </span>
      ),
    }
  })
}

function stayRows({ animal, today, zones }: IndividualPage): Row[] {
  return [...animal.stays].reverse().map((stay) => {
    const zone = zones.find(({ value }) => value === stay.zoneId)?.label ?? 'a zone'
    const until = stay.until ? `until ${writeDay(stay.until, today)}` : 'until now'
    return { key: stay.id, on: writeDay(stay.from, today), text: `${stay.kindName} in ${zone}, ${until}` }
  })
}

function feedingRows({ history, today }: IndividualPage): Row[] {
  return history.feedings.map(({ id, on, ate, prey }) => ({
    key: id,
    on: writeDay(on, today),
    text: `${ate ? 'Ate' : 'Refused'}${prey ? ` ${prey}` : ''}`,
  }))
}
