import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeWeekday } from '@/lib/domain/dispatch/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { type ListedOrder, loadOrdersPage, type OrdersPage } from '@/lib/features/order/loaders'
import { OrderPlaces } from './_components/order-places'

export const metadata = { title: 'Orders' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<{ state?: string | string[]; cursor?: string | string[] }>
}

const text = (value: string | string[] | undefined) => (typeof value === 'string' ? value : undefined)

export default async function Orders({ params, searchParams }: Props) {
  const { workspace } = await params
  const { state, cursor } = await searchParams
  const page = await loadOrdersPage(workspace, { state: text(state), cursor: text(cursor) })
  const isEmpty = page.items.length === 0 && page.isFirstPage
  const take = page.mayWrite ? (
    <LinkButton href={`/w/${workspace}/orders/new`} kind="filled">
      Take an order
    </LinkButton>
  ) : null
  return (
    <>
      <PageHeader
        title="Orders"
        facts="To be sent, or paid and collected later"
        actions={isEmpty && page.state === 'open' ? null : take}
      />
      <OrderPlaces workspace={workspace} current={page.state === 'open' ? '' : `?state=${page.state}`} />
      {isEmpty ? (
        <NoOrders state={page.state} action={take} />
      ) : (
        <OrderTable workspace={workspace} page={page} />
      )}
      {page.nextCursor ? (
        <p className="no-print mt-6">
          <LinkButton href={`/w/${workspace}/orders?state=${page.state}&cursor=${page.nextCursor}`}>
            Older ones
          </LinkButton>
        </p>
      ) : null}
    </>
  )
}

function NoOrders({ state, action }: { state: OrdersPage['state']; action: React.ReactNode }) {
  if (state !== 'open') return <p className="mt-6 text-soft">None.</p>
  return (
    <EmptyScreen title="No order is open" action={action}>
      <p>
        Write down what somebody wants, as a description. This page then says on which days every animal of it
        can travel, and which one keeps it here.
      </p>
    </EmptyScreen>
  )
}

function OrderTable({ workspace, page }: { workspace: string; page: OrdersPage }) {
  const columns: Column<ListedOrder>[] = [
    {
      head: 'Order',
      isRowHead: true,
      cell: ({ id, number }) => (
        <Link href={`/w/${workspace}/orders/${id}`} className="inline-block py-1 tabular-nums">
          {number}
        </Link>
      ),
    },
    { head: 'For', cell: ({ name }) => name },
    {
      head: 'What',
      cell: ({ lines, stock }) =>
        [
          ...lines.map(({ count, words }) => `${count} × ${words}`),
          ...stock.map(({ quantity, description }) => `${quantity} × ${description}`),
        ].join('; '),
    },
    {
      head: 'Total',
      isFigure: true,
      cell: ({ balance }) => writeMoney(balance.dueMinor, page.currency, 'en'),
    },
    {
      head: 'Owed',
      isFigure: true,
      cell: ({ balance }) =>
        balance.owedMinor > 0 ? writeMoney(balance.owedMinor, page.currency, 'en') : 'nothing',
    },
    { head: 'State', cell: (order) => <OrderMark order={order} today={page.today} /> },
  ]
  return <DataTable caption="Orders" columns={columns} rows={page.items} rowKey={({ id }) => id} />
}

function OrderMark({ order, today }: { order: ListedOrder; today: string }) {
  const { state, firstDay, way, stateWords } = order
  if (state === 'to-settle') return <StateMark state="late" word={stateWords} />
  if (state !== 'open') return <StateMark state="fine" word={stateWords} />
  if (firstDay === null) return <StateMark state="leave-alone" word="cannot go yet" />
  const verb = way === 'sent' ? 'can go' : 'can be collected'
  if (firstDay === today) return <StateMark state="due" word={`${verb} today`} />
  return <StateMark state="leave-alone" word={`${verb} ${writeWeekday(firstDay, today)}`} />
}
