'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { chooseAnimalsAction } from '@/lib/features/order/actions'
import type { OrderPage } from '@/lib/features/order/loaders'

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'lines' | 'dispatch'> }

/** Whom the first day goes with, in one touch. */
export function ChooseSafest({ workspace, page: { order, lines, dispatch } }: Props) {
  const done = useDone()
  const first = dispatch?.answer.days[0]
  if (!first || !dispatch) return null
  const kept = lines.flatMap(({ number, chosen }) =>
    chosen.map(({ id }) => ({ line: number, individual: id })),
  )
  const fresh = first.going.filter(({ isChosen }) => !isChosen)
  const animals = [...kept, ...fresh.map(({ line, animal }) => ({ line, individual: animal }))]
  const codes = fresh.map(({ animal }) => dispatch.codes[animal]).join(', ')
  return (
    <div className="no-print mt-3 flex flex-wrap items-center gap-3">
      <ActionButton
        action={chooseAnimalsAction}
        workspace={workspace}
        input={{ order: order.id, version: order.version, animals }}
        onDone={() => done('Chosen. Nobody else can promise them now.')}
      >
        Choose the safest
      </ActionButton>
      <p className="text-small text-soft">{codes}</p>
    </div>
  )
}
