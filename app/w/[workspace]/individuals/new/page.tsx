import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadNewIndividualPage } from '@/lib/features/individual/loaders'
import { NewAnimals } from './_components/new-animals'

export const metadata = { title: 'Add animals' }

type Props = { params: Promise<{ workspace: string }> }

export default async function NewIndividualPage({ params }: Props) {
  const { workspace } = await params
  const page = await loadNewIndividualPage(workspace)
  const missing = page.zones.length === 0 ? 'zones' : page.kinds.length === 0 ? 'containers' : null
  return (
    <>
      <PageHeader
        title="Add animals from elsewhere"
        facts="Bought or caught wild, each in a container of its own"
        parent={{ href: `/w/${workspace}/individuals`, label: 'Animals' }}
      />
      {missing ? (
        <EmptyScreen
          title={missing === 'zones' ? 'First a zone' : 'First a kind of container'}
          action={
            <LinkButton href={`/w/${workspace}/${missing}`} kind="filled">
              {missing === 'zones' ? 'Add a zone' : 'Add a kind of container'}
            </LinkButton>
          }
        >
          <p>
            Every animal stands in a container, in a room with a temperature. Its forecasts are made from
            that.
          </p>
        </EmptyScreen>
      ) : (
        <NewAnimals workspace={workspace} page={page} />
      )}
    </>
  )
}
