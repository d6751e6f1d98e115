import { RoomPicture } from '@/components/room/room-picture'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeCount } from '@/lib/domain/calendar/wording'
import { saySaleable } from '@/lib/domain/room-forecast/wording'
import { loadRoomForecastPage, type RoomForecastPage } from '@/lib/features/room-forecast/loaders'
import { PrintButton } from '../_components/print-button'
import { RoomFilter } from './_components/room-filter'
import { SaleAges } from './_components/sale-ages'
import { StageTable } from './_components/stage-table'

export const metadata = { title: 'Room forecast' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

const SALE_WEEKS = 5

export default async function Room({ params, searchParams }: Props) {
  const { workspace } = await params
  const page = await loadRoomForecastPage(workspace, await searchParams)
  if (page.isEmpty)
    return (
      <>
        <PageHeader title="Room forecast" />
        <EmptyScreen
          title="Nobody to forecast yet"
          action={
            <LinkButton href={`/w/${workspace}/egg-cases/new`} kind="filled">
              Record an egg case
            </LinkButton>
          }
        >
          <p>
            With an egg case, a clutch or an animal on record, this page says how many of each stage will
            stand here in every week to come, and how many of them can be sold.
          </p>
        </EmptyScreen>
      </>
    )
  const sentence = saySaleable(page.weeks, SALE_WEEKS, page.today)
  return (
    <>
      <PageHeader title="Room forecast" facts={sayFacts(page)} actions={<PrintButton />} />
      <RoomFilter workspace={workspace} page={page} />
      {sentence ? <p className="mt-5 text-lead">{sentence}</p> : null}
      <section className="mt-5">
        <RoomPicture weeks={page.weeks} title="Animals in the room by week" />
      </section>
      <LeftOut page={page} />
      {page.query.species === '' ? (
        <SaleAges workspace={workspace} page={page} ahead={SALE_WEEKS} />
      ) : (
        <StageTable page={page} />
      )}
    </>
  )
}

function sayFacts({ query, choices }: RoomForecastPage): string {
  const species =
    choices.find(({ value }) => value === query.species)?.label ?? writeCount(choices.length, 'kind')
  return `${species}, ${writeCount(query.weeks, 'week')} ahead, from your records and the care profiles`
}

function LeftOut({ page: { leftOut } }: { page: RoomForecastPage }) {
  const { animals, eggCases } = leftOut
  if (animals + eggCases.length === 0) return null
  return (
    <p className="mt-3 text-small text-soft">
      Not counted:{' '}
      {[
        animals > 0 ? `${writeCount(animals, 'animal')} without a care profile or a temperature` : '',
        eggCases.length > 0
          ? `${eggCases.join(', ')} without a window (no temperature, or at rest with no end planned)`
          : '',
      ]
        .filter(Boolean)
        .join('; ')}
      .
    </p>
  )
}
