import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { ApiTokenRow } from '@/lib/features/api-token/data'
import { loadTokensPage } from '@/lib/features/api-token/loaders'
import { MakeToken } from './_components/make-token'
import { RevokeToken } from './_components/revoke-token'

export const metadata = { title: 'API tokens' }

type Props = { params: Promise<{ workspace: string }> }

export default async function TokensPage({ params }: Props) {
  const { workspace } = await params
  const { workspaceName, tokens } = await loadTokensPage(workspace)
  const make = <MakeToken workspace={workspace} />
  return (
    <>
      <PageHeader
        title="API tokens"
        facts={`${workspaceName} · for tills, web shops and sensors`}
        parent={{ href: `/w/${workspace}/settings`, label: 'Workspace' }}
        actions={tokens.length > 0 ? make : null}
      />
      <p className="my-4 max-w-2xl text-small text-soft">
        Whoever holds a token acts here in its role. What can be asked with one is described{' '}
        <Link href="/api/v1/docs" prefetch={false} className="underline">
          in the reference
        </Link>
        .
      </p>
      {tokens.length === 0 ? (
        <EmptyScreen title="No token yet" action={make}>
          <p>A token lets another program of yours record sales, read clutches or post a temperature.</p>
        </EmptyScreen>
      ) : (
        <DataTable
          caption="API tokens"
          columns={listColumns(workspace)}
          rows={tokens}
          rowKey={(row) => row.id}
        />
      )}
    </>
  )
}

function listColumns(workspace: string): Column<ApiTokenRow>[] {
  return [
    { head: 'For', cell: (row) => row.name, isRowHead: true },
    { head: 'Role', cell: (row) => row.role },
    { head: 'Made by', cell: (row) => row.madeBy },
    { head: 'Until', cell: (row) => writeDay(row.expiresAt.slice(0, 10)) },
    { head: 'State', cell: (row) => <TokenState state={row.state} /> },
    {
      head: 'Action',
      cell: (row) =>
        row.state === 'works' ? <RevokeToken workspace={workspace} id={row.id} name={row.name} /> : null,
    },
  ]
}

function TokenState({ state }: { state: ApiTokenRow['state'] }) {
  return state === 'works' ? (
    <StateMark state="fine" word="works" />
  ) : (
    <span className="text-soft">{state}</span>
  )
}
