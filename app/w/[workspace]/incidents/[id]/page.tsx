import { Moment } from '@/components/calendar/moment'
import { TakeIncident } from '@/components/incident/take-incident'
import { FactList } from '@/components/ui/fact-list'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { Residents } from '@/components/zone/residents'
import { FIRST_CHECKS, sayIncident, sayLimit, VET_WORDS } from '@/lib/domain/zone/incident-words'
import { writeTemperature } from '@/lib/domain/zone/temperature-unit'
import { type IncidentPage, loadIncidentPage } from '@/lib/features/incident/loaders'
import { IncidentNote } from './_components/incident-note'
import { IncidentPicture } from './_components/incident-picture'

export const metadata = { title: 'Incident' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function Incident({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadIncidentPage(workspace, id)
  const { incident, residents, unit, mayTake } = page
  const isTaken = incident.takenAt !== null
  return (
    <>
      <PageHeader
        title={sayIncident(incident, unit)}
        facts={<Standing page={page} />}
        parent={{ href: `/w/${workspace}/incidents`, label: 'Incidents' }}
        actions={mayTake && !isTaken ? <TakeIncident workspace={workspace} id={incident.id} /> : null}
      />
      <div className="mt-6 grid gap-x-12 gap-y-10 desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <div className="min-w-0 space-y-10">
          <section>
            <h2 className="mb-2">What to check first</h2>
            <ol className="list-decimal space-y-2 ps-6">
              {FIRST_CHECKS[incident.kind].map((check) => (
                <li key={check}>{check}</li>
              ))}
            </ol>
            <p className="mt-3 text-small text-soft">{VET_WORDS}</p>
          </section>
          {incident.kind === 'silent' ? null : <IncidentPicture page={page} />}
        </div>
        <div className="min-w-0 space-y-10">
          <Rest page={page} />
          <FactList facts={listFacts(page)} />
          <Residents
            workspace={workspace}
            zoneId={incident.zoneId}
            residents={residents}
            title="Who stood there"
            empty="Nothing stood there then."
          />
          {mayTake ? <IncidentNote workspace={workspace} incident={incident} /> : <p>{incident.note}</p>}
        </div>
      </div>
    </>
  )
}

function Standing({ page: { incident, span } }: { page: IncidentPage }) {
  const { endedAt, takenAt, takenByName } = incident
  const who = takenAt ? `${takenByName ?? 'somebody'} looks after it` : 'nobody has taken it yet'
  const state = takenAt ? 'fine' : endedAt ? 'due' : 'late'
  return <StateMark state={state} word={`${span}; ${who}`} />
}

function Rest({ page: { incident, restUntil, timeZone } }: { page: IncidentPage }) {
  if (incident.kind === 'silent') return null
  const until = restUntil
  if (until && until.getTime() < Date.now()) return null
  return (
    <Notice
      state="due"
      what="Nothing that stood there travels for 48 hours."
      why={
        until ? (
          <>
            So not before <Moment at={until.toISOString()} timeZone={timeZone} />. What was stressed by heat
            or cold often dies on the way or just after.
          </>
        ) : (
          'They are counted from its end, which has not come yet.'
        )
      }
    />
  )
}

function listFacts({ incident, span, unit, timeZone }: IncidentPage) {
  const { zoneName, kind, extremeC, calls, takenAt, takenByName } = incident
  return [
    { term: 'Zone', value: zoneName },
    { term: 'When', value: span },
    { term: 'What', value: sayLimit(incident, unit) },
    ...(extremeC === null
      ? []
      : [{ term: kind === 'too_hot' ? 'Warmest' : 'Coldest', value: writeTemperature(extremeC, unit) }]),
    { term: 'Called', value: calls === 1 ? 'once' : `${calls} times` },
    ...(takenAt
      ? [
          {
            term: 'Taken',
            value: (
              <>
                {takenByName ?? 'by a token'}, <Moment at={takenAt.toISOString()} timeZone={timeZone} />
              </>
            ),
          },
        ]
      : []),
  ]
}
