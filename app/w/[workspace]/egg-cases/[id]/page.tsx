import Link from 'next/link'
import { HatchWindowAxis } from '@/components/hatch/hatch-window-axis'
import { OriginPapers } from '@/components/paper/paper-list'
import { ClosePage } from '@/components/public-page/close-page'
import { FactList } from '@/components/ui/fact-list'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import { sayHatchState } from '@/lib/domain/hatch/wording'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type EggCasePage, loadEggCase } from '@/lib/features/egg-case/loaders'
import { EGG_CASE_END_WORDS } from '@/lib/features/egg-case/schema'
import { PastWindowsLink } from '../../_components/past-windows-link'
import { listWindows } from '../_components/window-of'
import { EggCaseActions } from './_components/egg-case-actions'
import { EggCaseSheet } from './_components/egg-case-sheet'
import { listFacts } from './_components/facts'
import { HatchForm } from './_components/hatch-form'

export const metadata = { title: 'Egg case' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function EggCase({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadEggCase(workspace, id)
  const { row, species, today, zones, scope } = page
  const mayWrite = isAllowed(scope.role, 'egg-case:write')
  const isThere = row.endedOn === null || row.end === 'given_away'
  const mayPrint = isAllowed(scope.role, 'care-sheet:print') && isThere
  const clutches = [...new Map(row.hatches.map((hatch) => [hatch.clutchId, hatch.clutchLabel]))]
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
        facts={<Standing page={page} />}
        parent={{ href: `/w/${workspace}/egg-cases`, label: 'Egg cases' }}
        actions={
          <>
            {mayPrint ? <EggCaseSheet workspace={workspace} eggCase={row.id} /> : null}
            {mayWrite && row.end !== 'sold' ? (
              <EggCaseActions
                workspace={workspace}
                today={today}
                hatchInput={page.hatchInput}
                zones={zones.map((zone) => ({ value: zone.id, label: zone.name }))}
                eggCase={{
                  id: row.id,
                  label: row.label,
                  version: row.version,
                  zoneId: page.zone?.id ?? '',
                  isEnded: row.endedOn !== null,
                  restStartOn: row.restStartOn,
                  restPlannedEndOn: row.restPlannedEndOn,
                  restEndedOn: row.restEndedOn,
                }}
              />
            ) : null}
          </>
        }
      />
      <div className="mt-6 grid gap-10 desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <div className="min-w-0 space-y-8">
          <HatchWindowAxis windows={listWindows(page)} today={today} />
          {page.forecast ? <p className="text-small text-soft">{page.forecast.reason}</p> : null}
          <PastWindowsLink workspace={workspace} of={{ name: 'eggCase', value: row.id }} />
          {page.forecast?.status === 'forecast' && row.hatches.length === 0 && !row.endedOn ? (
            <LinkButton href={`/w/${workspace}/egg-cases/check?eggCase=${row.id}`}>
              Can I take this hatch?
            </LinkButton>
          ) : null}
          <FactList facts={listFacts(page)} />
          <Hatches page={page} workspace={workspace} />
          <OriginPapers
            {...{ workspace, today, mayWrite, papers: page.papers }}
            subject="egg_case"
            id={row.id}
          />
          <OpenPage page={page} workspace={workspace} />
        </div>
        {mayWrite ? (
          <section>
            <h2 className="mb-3">Record a hatch</h2>
            <HatchForm
              workspace={workspace}
              eggCaseId={row.id}
              today={today}
              clutches={clutches.map(([value, label]) => ({ value, label }))}
              siblings={page.siblings
                .filter(({ id: sibling }) => clutches.every(([own]) => own !== sibling))
                .map(({ id: value, label }) => ({ value, label }))}
            />
          </section>
        ) : null}
      </div>
    </>
  )
}

function Standing({ page: { row, forecast, today } }: { page: EggCasePage }) {
  if (row.end && row.endedOn) return `${EGG_CASE_END_WORDS[row.end]}, ${writeDay(row.endedOn, today)}`
  return <StateMark {...sayHatchState(forecast, row.hatches.length > 0)} />
}

function Hatches({ page, workspace }: { page: EggCasePage; workspace: string }) {
  const { hatches } = page.row
  if (hatches.length === 0) return null
  return (
    <section>
      <h2 className="mb-2">Hatched</h2>
      <ul className="divide-y divide-line border-line border-y">
        {hatches.map(({ id, on, likely, low, high, clutchId, clutchLabel }) => (
          <li key={id} className="flex flex-wrap items-center justify-between gap-x-6 py-1">
            <span>
              {writeDay(on, page.today)}: {low === null ? likely : `about ${likely} (${low} to ${high})`}
            </span>
            <Link
              prefetch={false}
              href={`/w/${workspace}/clutches/${clutchId}`}
              className="target inline-flex items-center"
            >
              Clutch {clutchLabel}
            </Link>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** The page behind the code on its sheets, while it is open. */
function OpenPage({ page, workspace }: { page: EggCasePage; workspace: string }) {
  const { publicLink, row, scope } = page
  if (!publicLink) return null
  return (
    <section>
      <h2>Care sheets</h2>
      <p className="mt-2 text-small text-soft">
        The code on them leads to a page that anybody with the sheet can read.
      </p>
      <div className="mt-2 flex flex-wrap items-center gap-x-4 gap-y-2">
        <a href={publicLink.address} target="_blank" rel="noreferrer" className="py-2.5">
          See the public page
        </a>
        {isAllowed(scope.role, 'public-link:revoke') ? (
          <ClosePage workspace={workspace} of={{ eggCase: row.id }} version={publicLink.version} />
        ) : null}
      </div>
    </section>
  )
}
