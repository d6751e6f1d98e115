import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { loadOrderPage, type OrderPage } from '@/lib/features/order/loaders'
import { AnimalsOfOrder } from './_components/animals-of-order'
import { Arrived } from './_components/arrived'
import { BuyerWords } from './_components/buyer-words'
import { DispatchDays } from './_components/dispatch-days'
import { LeaveOrder } from './_components/leave-order'
import { OrderFacts } from './_components/order-facts'
import { Payments } from './_components/payments'
import { RecordArrival } from './_components/record-arrival'
import { TakeBackOrder } from './_components/take-back-order'
import { ToPrint } from './_components/to-print'

export const metadata = { title: 'Order' }

type Props = {
  params: Promise<{ workspace: string; id: string }>
  searchParams: Promise<{ language?: string | string[] }>
}

export default async function OrderScreen({ params, searchParams }: Props) {
  const { workspace, id } = await params
  const { language } = await searchParams
  const asked = typeof language === 'string' ? language : undefined
  const page = await loadOrderPage(workspace, id, { language: asked })
  return (
    <>
      <PageHeader
        title={`Order ${page.order.number}`}
        parent={{ href: `/w/${workspace}/orders`, label: 'Orders' }}
        facts={sayFacts(page)}
        actions={page.mayWrite ? <Actions workspace={workspace} page={page} /> : null}
      />
      {page.dispatch ? <DispatchDays workspace={workspace} page={page} /> : null}
      {page.order.arrivedOn ? <Arrived workspace={workspace} page={page} /> : null}
      <AnimalsOfOrder workspace={workspace} page={page} />
      <Payments workspace={workspace} page={page} />
      <ToPrint workspace={workspace} page={page} />
      {page.buyerWords ? <BuyerWords workspace={workspace} page={page} words={page.buyerWords} /> : null}
      <OrderFacts workspace={workspace} page={page} />
    </>
  )
}

function sayFacts({ order, recipient, stateWords, today }: OrderPage): string {
  const [open, left] =
    order.way === 'sent' ? ['To be sent', 'Sent'] : ['To be collected here', 'Collected here']
  const way = order.leftOn ? left : open
  const whom = recipient.name ? `for ${recipient.name}` : ''
  return [way, whom, `taken ${writeDay(order.orderedOn, today)}`, stateWords].filter(Boolean).join(' · ')
}

function Actions({ workspace, page }: { workspace: string; page: OrderPage }) {
  if (page.state === 'open')
    return (
      <>
        <LeaveOrder workspace={workspace} page={page} />
        <TakeBackOrder workspace={workspace} page={page} />
      </>
    )
  return page.state === 'on-its-way' ? <RecordArrival workspace={workspace} page={page} /> : null
}
