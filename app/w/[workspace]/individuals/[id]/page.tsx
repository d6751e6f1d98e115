import Link from 'next/link'
import { DoubtfulDays } from '@/components/individual/doubtful-days'
import { MoultTimeline } from '@/components/individual/moult-timeline'
import { OriginPapers } from '@/components/paper/paper-list'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { formatCode } from '@/lib/domain/label/code'
import { loadIndividualPage, type IndividualPage as Page } from '@/lib/features/individual/loaders'
import { PastWindowsLink } from '../../_components/past-windows-link'
import { SexWord } from '../_components/sex-word'
import { AnimalActions } from './_components/animal-actions'
import { AnimalFacts } from './_components/animal-facts'
import { AnimalForecast } from './_components/animal-forecast'
import { AnimalHistory } from './_components/animal-history'
import { LeaveToday } from './_components/leave-today'
import { PhotoPart } from './_components/photo-part'
import { PublicPagePart } from './_components/public-page-part'
import { ReturnAnimal } from './_components/return-animal'

type Props = { params: Promise<{ workspace: string; id: string }> }

export const metadata = { title: 'Animal' }

export default async function IndividualPage({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadIndividualPage(workspace, id)
  const { animal, outlook, words } = page
  const isHere = animal.whereabouts === 'single'
  return (
    <>
      <PageHeader
        parent={{ href: `/w/${workspace}/individuals`, label: 'Animals' }}
        title={
          <>
            <span className="tabular-nums">{formatCode(animal.label)}</span>{' '}
            <span className="font-normal">
              <LatinName name={page.species.scientificName} />
            </span>
          </>
        }
        facts={<HeadFacts page={page} workspace={workspace} />}
        actions={isHere ? <AnimalActions workspace={workspace} page={page} /> : null}
      />
      {words ? (
        <p className="py-3">
          <StateMark {...words} />
        </p>
      ) : null}
      {isHere ? null : <Gone page={page} workspace={workspace} />}
      {outlook?.timeline ? (
        <section className="mt-4" aria-label="Moults">
          <MoultTimeline timeline={outlook.timeline} />
          {page.conventionNote && !outlook.isAdult ? (
            <p className="mt-1 text-fine-print text-soft">{page.conventionNote}</p>
          ) : null}
          <PastWindowsLink workspace={workspace} of={{ name: 'individual', value: animal.id }} />
        </section>
      ) : null}
      <DoubtfulDays workspace={workspace} doubts={page.doubts} mayWrite={page.may.write} isNamed={false} />
      <div className="mt-8 grid gap-x-10 gap-y-8 desk:grid-cols-2">
        <AnimalForecast page={page} />
        {isHere ? <LeaveToday workspace={workspace} page={page} /> : null}
        <AnimalFacts workspace={workspace} page={page} />
        <PublicPagePart workspace={workspace} page={page} />
        <PhotoPart workspace={workspace} page={page} />
        <OriginPapers
          {...{ workspace, papers: page.papers, today: page.today }}
          subject="individual"
          id={animal.id}
          mayWrite={page.may.write}
        />
      </div>
      <AnimalHistory workspace={workspace} page={page} />
    </>
  )
}

function HeadFacts({ page, workspace }: { page: Page; workspace: string }) {
  const { animal, outlook } = page
  return (
    <>
      {outlook ? `${outlook.stage} · ` : ''}
      <SexWord sex={animal.sex} certainty={animal.sexCertainty} />
      {outlook ? ` · about ${Math.round(outlook.lengthMm)} mm` : ''}
      {animal.clutchId ? (
        <>
          {' · clutch '}
          <Link href={`/w/${workspace}/clutches/${animal.clutchId}`}>{animal.clutchLabel}</Link>
        </>
      ) : null}
    </>
  )
}

const CAN_RETURN = new Set(['dead', 'escaped', 'given_away'])

function Gone({ page, workspace }: { page: Page; workspace: string }) {
  const { animal, history, may } = page
  const sale = history.sales.find(({ isReversed }) => !isReversed)
  const next =
    animal.whereabouts === 'sold' && sale ? (
      <LinkButton href={`/w/${workspace}/sales/${sale.id}`}>Receipt {sale.receiptNumber}</LinkButton>
    ) : may.place && CAN_RETURN.has(animal.whereabouts) ? (
      <ReturnAnimal workspace={workspace} page={page} />
    ) : null
  return (
    <div className="mt-4">
      <Notice state="fine" what={whereaboutsSentence(animal, page.today)} next={next} />
    </div>
  )
}
