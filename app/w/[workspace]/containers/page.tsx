import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadContainersPage } from '@/lib/features/container/loaders'
import { AddKind } from './_components/add-kind'
import { KindEntry } from './_components/kind-entry'

export const metadata = { title: 'Containers' }

type Props = { params: Promise<{ workspace: string }> }

export default async function ContainersPage({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, today, mayWrite, kinds } = await loadContainersPage(workspace)
  const add = mayWrite ? <AddKind workspace={workspace} /> : null
  const free = kinds.filter((kind) => kind.single).reduce((sum, kind) => sum + Math.max(0, kind.free), 0)
  return (
    <>
      <PageHeader
        title="Containers"
        facts={`${workspaceName} · ${free} single ${free === 1 ? 'container' : 'containers'} free`}
        actions={
          kinds.length > 0 ? (
            <>
              <LinkButton href={`/w/${workspace}/housing`}>Who has to move up</LinkButton>
              <LinkButton href={`/w/${workspace}/colonies`}>Colonies</LinkButton>
              {add}
            </>
          ) : null
        }
      />
      {kinds.length === 0 ? (
        <EmptyScreen title="No kind of container yet" action={add}>
          <p>
            Say which cups and cages you have, how large and how many. Then the service knows whether there
            are enough of them for a hatch.
          </p>
        </EmptyScreen>
      ) : (
        <ul aria-label="Kinds of container" className="divide-y divide-line">
          {kinds.map((kind) => (
            <KindEntry key={kind.id} {...{ workspace, today, mayWrite, kind }} />
          ))}
        </ul>
      )}
    </>
  )
}
