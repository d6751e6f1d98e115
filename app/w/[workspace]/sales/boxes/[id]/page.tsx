import Link from 'next/link'
import { FactList } from '@/components/ui/fact-list'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { loadShowBoxPage } from '@/lib/features/show-box/loaders'
import { LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'
import { SalesPlaces } from '../../_components/sales-places'
import { BoxPapers } from './_components/box-papers'
import { BoxParts } from './_components/box-parts'
import { BoxedAnimals, PutMoreIn } from './_components/boxed-animals'
import { BoxedItems } from './_components/boxed-items'
import { SettleBox } from './_components/settle-box'

export const metadata = { title: 'Show box' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function ShowBoxPage({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadShowBoxPage(workspace, id)
  const { box, today, animals } = page
  const count = (end: string | null) => animals.filter((animal) => animal.end === end).length
  const missing = count('missing')
  const toCount = box.items.filter(
    ({ isOut, packed, sold, home }) => !isOut && packed - sold !== (home ?? -1),
  )
  const chosen = LANGUAGES.filter((language) => box.languages.includes(language))
  return (
    <>
      <PageHeader
        title={box.name}
        facts={`Show box ${box.number}, ${writeDay(box.packOn, today)} to ${writeDay(box.returnOn, today)}`}
        actions={
          page.mayPrint && count(null) > 0 ? (
            <BoxPapers workspace={workspace} box={box.id} files={page.files} />
          ) : null
        }
      />
      <SalesPlaces workspace={workspace} current="/boxes" />
      <div className="space-y-8">
        {missing > 0 ? (
          <Notice
            state="late"
            what={`${missing} ${missing === 1 ? 'cup is' : 'cups are'} missing.`}
            why="Look once more in the box and on the table, and scan again what turns up. A receipt may also still be on a device that has not sent it."
          />
        ) : null}
        <FactList
          facts={[
            { term: 'Still inside', value: count(null) },
            { term: 'Sold', value: count('sold') },
            ...(box.settledOn ? [{ term: 'Came home', value: count('home') }] : []),
            { term: 'Languages', value: chosen.map((language) => LANGUAGE_NAMES[language]).join(', ') },
            ...(box.settledOn ? [{ term: 'Settled', value: writeDay(box.settledOn, today) }] : []),
          ]}
        />
        <BoxParts workspace={workspace} page={page} />
        <BoxedAnimals workspace={workspace} page={page} />
        <BoxedItems workspace={workspace} page={page} />
        {page.maySell && !box.settledOn ? <PutMoreIn workspace={workspace} page={page} /> : null}
        {page.maySell && (count(null) > 0 || missing > 0 || toCount.length > 0) ? (
          <SettleBox workspace={workspace} box={box} items={toCount} />
        ) : null}
        <p className="max-w-2xl text-small text-soft">
          Keep the cups out of draughts, sun and heat in the hall, and never on a heater in the car. Rules for
          showing and selling live animals differ by country and venue: those decide. Keep what came home
          apart from the others for a while: it has stood beside strangers.{' '}
          <Link href={`/w/${workspace}/zones`}>Quarantine is set for a zone.</Link>
        </p>
      </div>
    </>
  )
}
