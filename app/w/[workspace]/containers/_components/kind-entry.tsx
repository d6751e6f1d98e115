import { OrderKind } from '@/components/container/order-kind'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { ContainerKindRow } from '@/lib/features/container/data'
import { ArchiveKind } from './archive-kind'
import { Arrived } from './arrived'
import { RecountKind } from './recount-kind'

type Props = { workspace: string; today: string; mayWrite: boolean; kind: ContainerKindRow }

export function KindEntry({ workspace, today, mayWrite, kind }: Props) {
  const { id, name, stock, inUse, free, version, ordered } = kind
  return (
    <li className="py-4">
      <div className="flex flex-wrap items-start justify-between gap-x-6 gap-y-2">
        <div className="min-w-0">
          <h2>{name}</h2>
          <p className="text-small text-soft">
            {kind.volumeMl} ml, {kind.innerHeightMm} mm high and {kind.innerWidthMm} mm wide inside,{' '}
            {kind.single ? 'for one animal' : 'for several'}
          </p>
          <p className="mt-1 flex flex-wrap items-center gap-x-4">
            <StateMark state={free > 0 ? 'fine' : 'due'} word={sayFree(free)} />
            <span className="text-small text-soft">
              {stock} in stock, {inUse} in use
            </span>
          </p>
        </div>
        {mayWrite ? (
          <div className="no-print -ms-4 flex flex-wrap desk:ms-0">
            <OrderKind {...{ workspace, kindId: id, name, today }} />
            <RecountKind workspace={workspace} kind={{ id, version, name, stock }} />
            {inUse === 0 ? <ArchiveKind workspace={workspace} kind={{ id, version }} name={name} /> : null}
          </div>
        ) : null}
      </div>
      {ordered.length > 0 ? (
        <ul aria-label={`${name} on order`} className="mt-2">
          {ordered.map((order) => (
            <li key={order.id} className="flex flex-wrap items-center gap-x-4">
              <span className="text-small">
                {order.count} on order, {order.on < today ? 'were expected' : 'expected'}{' '}
                {writeDay(order.on, today)}
              </span>
              {mayWrite ? (
                <div className="-ms-4">
                  <Arrived workspace={workspace} orderId={order.id} count={order.count} />
                </div>
              ) : null}
            </li>
          ))}
        </ul>
      ) : null}
    </li>
  )
}

function sayFree(free: number): string {
  if (free > 0) return `${free} free`
  return free === 0 ? 'none free' : `${-free} more in use than counted`
}
