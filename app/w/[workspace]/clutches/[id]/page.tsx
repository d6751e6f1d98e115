import Link from 'next/link'
import { HeadCountBar } from '@/components/clutch/head-count-bar'
import { WaitingCostCurve } from '@/components/clutch/waiting-cost-curve'
import { DoubtfulDays } from '@/components/individual/doubtful-days'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import { isAllowed } from '@/lib/domain/role/permissions'
import { saySighting } from '@/lib/domain/separation/sighting-wording'
import { sayDeadline, sayWaiting } from '@/lib/domain/separation/wording'
import { type ClutchPage, loadClutch } from '@/lib/features/clutch/loaders'
import { PastWindowsLink } from '../../_components/past-windows-link'
import { ClutchActions } from './_components/clutch-actions'
import { Cohort } from './_components/cohort'
import { Ledger } from './_components/ledger'
import { Observations } from './_components/observations'

export const metadata = { title: 'Clutch' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function Clutch({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadClutch(workspace, id)
  const { row, species, forecast, scope, today, zones } = page
  const mayWrite = isAllowed(scope.role, 'clutch:write')
  const isPressing = forecast !== null && forecast.state !== 'fine'
  return (
    <>
      <PageHeader
        title={
          <>
            {row.label}{' '}
            <span className="font-normal">
              <LatinName name={species.scientificName} />
            </span>
          </>
        }
        facts={<Origin page={page} workspace={workspace} />}
        parent={{ href: `/w/${workspace}/clutches`, label: 'Clutches' }}
        actions={
          mayWrite && row.headCount.together > 0 ? (
            <LinkButton href={`/w/${workspace}/clutches/${id}/bench`} kind={isPressing ? 'hand' : 'filled'}>
              Open the bench
            </LinkButton>
          ) : null
        }
      />
      <section className="mt-6">
        <HeadCountBar count={row.headCount} isAbout={!row.counted} />
      </section>
      {mayWrite ? (
        <ClutchActions
          workspace={workspace}
          today={today}
          clutch={{
            id,
            label: row.label,
            together: row.headCount.together,
            hatched: row.headCount.hatched,
            escaped: row.headCount.escaped,
            isCounted: row.counted,
            zoneId: page.zone?.id ?? '',
            isInColony: row.stays.some(({ until, colonyId }) => until === null && colonyId !== null),
            mayLiveTogether: species.profile?.separation.allowsColony.value ?? false,
          }}
          zones={zones.map((zone) => ({ value: zone.id, label: zone.name }))}
          boxes={page.boxes}
          isDue={isPressing}
          stages={page.stages}
        />
      ) : null}
      <Separation page={page} workspace={workspace} />
      <Trays page={page} workspace={workspace} />
      <Cohort page={page} />
      <PastWindowsLink workspace={workspace} of={{ name: 'clutch', value: row.id }} />
      <Observations
        workspace={workspace}
        mayWrite={mayWrite}
        lines={page.observations.map((seen) => ({
          id: seen.id,
          version: seen.version,
          day: writeDay(seen.on, today),
          text: saySighting(seen, page.naming),
          by: seen.seenBy,
        }))}
      />
      <DoubtfulDays
        workspace={workspace}
        doubts={page.doubts}
        mayWrite={isAllowed(scope.role, 'individual:write')}
      />
      <Ledger entries={page.entries} workspace={workspace} clutchId={id} today={today} mayWrite={mayWrite} />
    </>
  )
}

function Origin({ page, workspace }: { page: ClutchPage; workspace: string }) {
  const { row, today, zone } = page
  const colony = row.stays.find(({ until, colonyId }) => until === null && colonyId !== null)
  const eggCases = [...new Map(row.hatches.map((hatch) => [hatch.eggCaseId, hatch.eggCaseLabel]))]
  return (
    <>
      {row.counted ? '' : 'about '}
      {row.headCount.hatched} hatched {writeDay(row.hatchedOn, today)} from{' '}
      {eggCases.map(([id, label], position) => (
        <span key={id}>
          {position === 0 ? '' : ', '}
          <Link prefetch={false} href={`/w/${workspace}/egg-cases/${id}`}>
            {label}
          </Link>
        </span>
      ))}
      {zone ? ` · ${zone.name}` : ''}
      {colony ? (
        <>
          {' '}
          · in the colony{' '}
          <Link href={`/w/${workspace}/colonies/${colony.colonyId}`}>{colony.colonyName}</Link>
        </>
      ) : null}
    </>
  )
}

/** That they were put together past their day is recorded, and stays in sight while they are. */
function LateStay({ page: { row, today } }: { page: ClutchPage }) {
  const stay = row.stays.find(({ until, pastDueOn }) => until === null && pastDueOn !== null)
  if (!stay?.pastDueOn) return null
  const { from, pastDueOn, overrideReason } = stay
  return (
    <li>
      Put into a container for several on {writeDay(from, today)}, although they should have been apart by{' '}
      {writeDay(pastDueOn, today)}
      {overrideReason ? `: ${overrideReason}` : ', without a reason given'}.
    </li>
  )
}

function Separation({ page, workspace }: { page: ClutchPage; workspace: string }) {
  const { row, forecast, today, species, lossWords } = page
  if (row.headCount.together < 2) return null
  if (!forecast)
    return (
      <section className="mt-8">
        <h2>Until when together</h2>
        <p className="text-soft">
          {species.profile
            ? 'No temperature is known to reckon with.'
            : 'Nobody has defined the instars of this species.'}
        </p>
      </section>
    )
  const waiting = sayWaiting(forecast.perDayNow)
  return (
    <section className="mt-8 grid gap-8 desk:grid-cols-2">
      <div>
        <h2>Until when together</h2>
        <p className="mt-2">
          <StateMark state={forecast.state} word={sayDeadline(forecast, today)} />
        </p>
        {waiting ? <p className="mt-2 font-semibold">{waiting}</p> : null}
        <ul className="mt-2 space-y-2 text-small text-soft">
          {forecast.reasons.map(({ code, text }) => (
            <li key={code}>{text}</li>
          ))}
          <LateStay page={page} />
          <li>Reckoned with {lossWords}.</li>
        </ul>
        <p className="mt-2">
          <Link href={`/w/${workspace}/separation-plan`} className="target inline-flex items-center">
            The plan across all clutches
          </Link>
        </p>
      </div>
      <div className="min-w-0">
        <h2 className="mb-2">What waiting costs</h2>
        <WaitingCostCurve
          points={forecast.costOfWaiting}
          today={today}
          dueOn={forecast.dueOn}
          lateOn={forecast.lateOn}
        />
      </div>
    </section>
  )
}

/** Cups of it that are kept as one, each as one line. */
function Trays({ page, workspace }: { page: ClutchPage; workspace: string }) {
  if (page.trays.length === 0) return null
  return (
    <section className="mt-8">
      <h2 className="mb-2">Trays</h2>
      <ul className="divide-y divide-line border-line border-y">
        {page.trays.map(({ id, label, count }) => (
          <li key={id} className="flex flex-wrap items-center gap-x-4 py-1">
            <Link
              prefetch={false}
              href={`/w/${workspace}/trays/${id}`}
              className="target inline-flex items-center font-semibold"
            >
              {label}
            </Link>
            <span className="text-small text-soft">{count} in cups of their own</span>
          </li>
        ))}
      </ul>
    </section>
  )
}
