'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { updatePreyOrderAction } from '@/lib/features/prey/actions'

type Props = { workspace: string; order: string; version: number; words: string }

export function SettleOrder({ workspace, order, version, words }: Props) {
  const done = useDone()
  const common = { action: updatePreyOrderAction, workspace, kind: 'quiet' as const }
  return (
    <div className="-me-4 flex flex-wrap">
      <ActionButton
        {...common}
        input={{ order, version, as: 'arrived' }}
        onDone={() => done('It has arrived.')}
      >
        Arrived<span className="sr-only">: {words}</span>
      </ActionButton>
      <ActionButton
        {...common}
        input={{ order, version, as: 'cancelled' }}
        onDone={() => done('Taken back.')}
      >
        Will not come<span className="sr-only">: {words}</span>
      </ActionButton>
    </div>
  )
}
