import { type Fact, FactList } from '@/components/ui/fact-list'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { shortRange } from '@/components/ui/picture/day-scale'
import { writeDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { writeMinutes } from '@/lib/domain/separation/bench-hours'
import { type HatchCheckPage, loadHatchCheckPage } from '@/lib/features/hatch-check/loaders'
import { PrintButton } from '../../_components/print-button'
import { AskForm } from './_components/ask-form'
import { LoadTable } from './_components/load-table'

export const metadata = { title: 'Can I take this hatch?' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export default async function HatchCheck({ params, searchParams }: Props) {
  const { workspace } = await params
  const page = await loadHatchCheckPage(workspace, await searchParams)
  const { checked, problem } = page
  return (
    <>
      <PageHeader
        title="Can I take this hatch?"
        facts={checked ? <Subject page={page} /> : 'Before an egg case is warmed, or bought'}
        parent={{ href: `/w/${workspace}/egg-cases`, label: 'Egg cases' }}
        actions={checked ? <PrintButton /> : null}
      />
      {problem ? (
        <div className="mt-4">
          <Notice state="due" what={problem} isAnnounced />
        </div>
      ) : null}
      {checked ? <Answer page={page} /> : null}
      <section className="no-print mt-10">
        <h2 className="mb-3">{checked ? 'Ask about another one' : 'An egg case that is not here yet'}</h2>
        <AskForm workspace={workspace} page={page} />
        {checked?.subject.id ? (
          <p className="mt-4">
            <LinkButton href={`/w/${workspace}/egg-cases/${checked.subject.id}`}>
              Back to {checked.subject.label}
            </LinkButton>
          </p>
        ) : null}
      </section>
    </>
  )
}

function Subject({ page: { checked } }: { page: HatchCheckPage }) {
  if (!checked) return null
  return (
    <>
      {checked.subject.label ? `${checked.subject.label} ` : 'One '}
      <LatinName name={checked.subject.scientificName} />, window{' '}
      {shortRange(checked.window.p10, checked.window.p90)}, about {Math.round(checked.nymphs.typical)} nymphs
      ({Math.round(checked.nymphs.low)} to {Math.round(checked.nymphs.high)}), hatches with{' '}
      {Math.round(100 * checked.chance)} % chance
    </>
  )
}

function Answer({ page }: { page: HatchCheckPage }) {
  const { checked, today } = page
  if (!checked) return null
  const { answer, sentence, better, subject } = checked
  return (
    <div className="mt-5 space-y-6">
      <div>
        <p className="text-lead">{sentence}</p>
        {better ? <p className="mt-2 text-lead">{better}</p> : null}
        <p className="mt-2 text-small text-soft">
          {subject.reason}{' '}
          {answer.load.dueOn ? `Apart by ${writeDay(answer.load.dueOn, today)}.` : 'They may stay together.'}
        </p>
      </div>
      <FactList facts={listLoadFacts(page, checked)} />
      <LoadTable page={page} checked={checked} />
    </div>
  )
}

type Checked = NonNullable<HatchCheckPage['checked']>

/** The most it asks for, before the weeks one by one. */
function listLoadFacts({ maySeeCosts, currency, today }: HatchCheckPage, { answer, food }: Checked): Fact[] {
  const workOf = (week: Checked['answer']['weeks'][number]) => week.partingMinutes + week.feedingMinutes
  const busiest = answer.weeks.reduce((most, week) => (workOf(week) > workOf(most) ? week : most))
  const fullest = answer.weeks.reduce((most, week) => (week.cups > most.cups ? week : most))
  const isPriced = food.every(
    ({ lines }, index) => lines.length > 0 || (answer.weeks[index]?.living ?? 0) < 0.5,
  )
  const cost = food.reduce((sum, { costMinor }) => sum + costMinor, 0)
  const money = writeMoney(Math.round(cost), currency, 'en-GB')
  return [
    {
      term: 'Busiest week',
      value: `${writeMinutes(workOf(busiest))} in the week from ${writeDay(busiest.week, today)}`,
    },
    {
      term: 'Most containers',
      value: `${Math.round(fullest.cups)} in the week from ${writeDay(fullest.week, today)}`,
    },
    ...(maySeeCosts
      ? [
          {
            term: `Live food, ${answer.weeks.length} weeks`,
            value: isPriced ? money : `${money}, and food that no line you keep gives`,
          },
        ]
      : []),
  ]
}
