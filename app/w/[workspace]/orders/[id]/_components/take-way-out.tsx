'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import type { WayOut } from '@/lib/domain/dispatch/way-out'
import { chooseAnimalsAction, splitOrderAction } from '@/lib/features/order/actions'
import type { OrderPage } from '@/lib/features/order/loaders'

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'lines'>; way: WayOut }

/** Takes an equal instead, or gives those who stay an order of their own. */
export function TakeWayOut({ workspace, page: { order, lines }, way }: Props) {
  const done = useDone()
  const at = { order: order.id, version: order.version }
  if (way.kind === 'swap') {
    const instead = new Map(way.swaps.map(({ from, to }) => [from, to]))
    const animals = lines.flatMap(({ number, chosen }) =>
      chosen.map(({ id }) => ({ line: number, individual: instead.get(id) ?? id })),
    )
    return (
      <ActionButton
        action={chooseAnimalsAction}
        workspace={workspace}
        input={{ ...at, animals }}
        onDone={() => done('Exchanged.')}
      >
        Exchange
      </ActionButton>
    )
  }
  if (way.kind !== 'split') return null
  return (
    <ActionButton
      action={splitOrderAction}
      workspace={workspace}
      input={{ ...at, staying: way.staying }}
      onDone={() => done('The rest is an order of its own now.')}
    >
      Split the order
    </ActionButton>
  )
}
