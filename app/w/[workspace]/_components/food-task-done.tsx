'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { createCulturesAction } from '@/lib/features/culture/actions'
import { createPreyOrderAction } from '@/lib/features/prey/actions'

type Props = {
  workspace: string
  task: { kind: 'start' | 'order'; line: string; count: number }
  today: string
  look: 'hand' | 'plain'
}

/** That what the plan asked for was done today, in one tap; another number is recorded on the shelf's own page. */
export function FoodTaskDone({ workspace, task, today, look }: Props) {
  const done = useDone()
  const { kind, line, count } = task
  return kind === 'start' ? (
    <ActionButton
      kind={look}
      action={createCulturesAction}
      workspace={workspace}
      input={{ line, count, startedOn: today }}
      onDone={() => done(`${count} started.`)}
    >
      Started
    </ActionButton>
  ) : (
    <ActionButton
      kind={look}
      action={createPreyOrderAction}
      workspace={workspace}
      input={{ line, packs: count, orderedOn: today }}
      onDone={() => done('Ordered.')}
    >
      Ordered
    </ActionButton>
  )
}
