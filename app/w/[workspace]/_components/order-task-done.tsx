'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { LinkButton } from '@/components/ui/link-button'
import type { DayTask } from '@/lib/domain/day-sheet/task'
import { sellOrderAction } from '@/lib/features/sale/actions'

type Props = {
  workspace: string
  kind: DayTask['kind']
  order: { id: string; version: number; isReady: boolean }
  today: string
  look: 'hand' | 'plain'
}

/** What is paid and kept here is collected with one tap; what is sent is packed first. */
export function OrderTaskDone({ workspace, kind, order, today, look }: Props) {
  const done = useDone()
  if (kind !== 'hand-over-order' || !order.isReady)
    return (
      <LinkButton href={`/w/${workspace}/orders/${order.id}`} kind={look}>
        {kind === 'send-order' ? 'Pack it' : 'Look at it'}
      </LinkButton>
    )
  return (
    <ActionButton
      kind={look}
      action={sellOrderAction}
      workspace={workspace}
      input={{ order: order.id, version: order.version, on: today }}
      onDone={() => done('Collected, with its receipt.')}
    >
      Collected
    </ActionButton>
  )
}
