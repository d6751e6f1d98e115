import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadIndividualListPage } from '@/lib/features/individual/loaders'
import { AnimalFilter } from './_components/animal-filter'
import { AnimalList } from './_components/animal-list'

export const metadata = { title: 'Animals' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export default async function IndividualsPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const asked = await searchParams
  const page = await loadIndividualListPage(workspace, asked)
  const add = page.mayWrite ? (
    <LinkButton href={`/w/${workspace}/individuals/new`} kind={page.items.length === 0 ? 'filled' : 'plain'}>
      Add animals from elsewhere
    </LinkButton>
  ) : null
  const isEmptyRoom = page.items.length === 0 && !page.isFiltered
  return (
    <>
      <PageHeader
        title="Animals"
        facts="Each in a container of its own, newest first"
        actions={
          <>
            {page.mayWrite ? (
              <LinkButton kind="quiet" href={`/w/${workspace}/hand-overs`}>
                Hand-overs
              </LinkButton>
            ) : null}
            {isEmptyRoom ? null : add}
          </>
        }
      />
      {isEmptyRoom ? (
        <EmptyScreen title="No single animal yet" action={add}>
          <p>
            Animals get a label and a place in this list when a clutch is separated, or when you add those you
            bought or caught.
          </p>
        </EmptyScreen>
      ) : (
        <>
          <AnimalFilter workspace={workspace} page={page} />
          <AnimalList workspace={workspace} page={page} />
          <NextPage workspace={workspace} asked={asked} cursor={page.nextCursor} />
        </>
      )}
    </>
  )
}

type NextProps = {
  workspace: string
  asked: Record<string, string | string[] | undefined>
  cursor: string | null
}

function NextPage({ workspace, asked, cursor }: NextProps) {
  if (!cursor) return null
  const said = Object.entries(asked).flatMap(([key, value]) =>
    typeof value === 'string' ? [[key, value]] : [],
  )
  const query = new URLSearchParams([...said.filter(([key]) => key !== 'cursor'), ['cursor', cursor]])
  return (
    <p className="no-print mt-6">
      <LinkButton href={`/w/${workspace}/individuals?${query}`}>Older ones</LinkButton>
    </p>
  )
}
