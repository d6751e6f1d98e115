import Link from 'next/link'
import { FactList } from '@/components/ui/fact-list'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { roundFlies, sayJar } from '@/lib/domain/culture/shelf'
import { type CulturePage, loadCulturePage } from '@/lib/features/culture/loaders'
import { requireIdParam } from '@/lib/platform/page'
import { DiscardCautions } from '../../_components/cautions'
import { MarkJar } from '../_components/mark-jar'
import { DiscardJar } from './_components/discard-jar'
import { Harvest } from './_components/harvest'
import { HarvestList } from './_components/harvest-list'
import { JarPicture } from './_components/jar-picture'
import { MoveJar } from './_components/move-jar'

export const metadata = { title: 'Jar' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function JarPage({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadCulturePage(workspace, requireIdParam(id))
  const { jar, standing, lineName, today, mayWrite, zones } = page
  const isOpen = mayWrite && standing !== null
  const common = { workspace, culture: jar.id, label: jar.label, today }
  return (
    <>
      <PageHeader
        title={`${jar.label} ${lineName}`}
        parent={{ href: `/w/${workspace}/live-food/cultures`, label: 'Jars' }}
        facts={standing ? sayJar(standing.outlook, today) : sayGone(page)}
        actions={isOpen ? <Harvest {...common} line={jar.line} /> : null}
      />
      {standing?.suspectWords ? (
        <div className="mt-4">
          <Notice
            state="due"
            what={standing.suspectWords}
            why="Replace it from a clean jar, or with bought starters."
          />
        </div>
      ) : null}
      {standing && standing.ways.length > 0 ? (
        <ul aria-label="What is different about it" className="mt-4 max-w-2xl space-y-1 text-small text-soft">
          {standing.ways.map((way) => (
            <li key={way}>{way}</li>
          ))}
        </ul>
      ) : null}
      <section className="mt-6">
        <JarPicture
          startedOn={jar.startedOn}
          today={today}
          expected={page.expected.slice(0, lifeDays(page))}
          harvests={jar.harvests}
        />
      </section>
      <section className="mt-8 max-w-2xl">
        <FactList facts={listFacts(page, workspace)} />
      </section>
      {mayWrite ? (
        <section aria-label="What was seen" className="no-print mt-6 flex flex-wrap gap-2">
          <MarkJar {...common} mark="mites" isMarked={jar.mitesOn !== null} />
          <MarkJar {...common} mark="mould" isMarked={jar.mouldOn !== null} />
          <MarkJar {...common} mark="crash" isMarked={jar.crashedOn !== null} />
          <MoveJar workspace={workspace} jar={jar} zones={zones} today={today} />
          {isOpen ? <DiscardJar {...common} /> : null}
        </section>
      ) : null}
      <HarvestList workspace={workspace} jar={jar} today={today} mayWrite={mayWrite} />
      <div className="mt-10">
        <DiscardCautions />
      </div>
    </>
  )
}

function sayGone({ jar, today }: CulturePage): string {
  return jar.endedOn ? `${jar.end === 'sold' ? 'sold' : 'discarded'} ${writeDay(jar.endedOn, today)}` : ''
}

function lifeDays({ standing, jar }: CulturePage): number {
  const known = standing?.outlook.expectedFromStart.length
  return Math.max(known ?? 45, ...jar.harvests.map(({ on }) => daysFrom(jar.startedOn, on)))
}

function daysFrom(from: string, on: string): number {
  return Math.round((Date.parse(on) - Date.parse(from)) / 86_400_000) + 1
}

function listFacts(
  { jar, standing, sourceLabel, daughters, learned, zones, today }: CulturePage,
  workspace: string,
) {
  const address = (id: string) => `/w/${workspace}/live-food/cultures/${id}`
  const taken = jar.harvests.reduce((sum, { count }) => sum + count, 0)
  const starters = jar.bought ? 'bought' : (sourceLabel ?? 'not written down')
  return [
    { term: 'Started', value: writeDay(jar.startedOn, today) },
    {
      term: 'Starters',
      value:
        jar.startersFrom && sourceLabel ? (
          <Link href={address(jar.startersFrom)}>{sourceLabel}</Link>
        ) : (
          starters
        ),
    },
    ...(daughters.length > 0
      ? [{ term: 'Gave starters to', value: daughters.map(({ label }) => label).join(', ') }]
      : []),
    {
      term: 'Stands in',
      value: [zones.find(({ value }) => value === jar.zoneId)?.label, jar.shelf].filter(Boolean).join(', '),
    },
    { term: 'Taken so far', value: `about ${roundFlies(taken)}` },
    ...(standing
      ? [
          ...(standing.outlook.uncounted.mean < 5
            ? []
            : [
                {
                  term: 'In it now, uncounted',
                  value: `about ${roundFlies(standing.outlook.uncounted.mean)}`,
                  note: `probably ${roundFlies(standing.outlook.uncounted.low)} to ${roundFlies(standing.outlook.uncounted.high)}; came since the last harvest or count`,
                },
              ]),
          {
            term: 'Still expected',
            value: `about ${roundFlies(standing.outlook.left)}`,
            note: `until it is discarded on ${writeDay(standing.outlook.discardOn, today)}`,
          },
        ]
      : []),
    ...(learned
      ? [
          {
            term: 'This line here',
            value: `${roundFlies(learned.mean)} a jar, differing by ${Math.round(learned.cv * 100)} %`,
            note: `learned from ${learned.cultures} finished jars in this zone`,
          },
        ]
      : []),
    ...(jar.notes ? [{ term: 'Note', value: jar.notes }] : []),
  ]
}
