'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { repeatSheetBatchAction } from '@/lib/features/sheet-batch/actions'

type Props = { workspace: string; batch: string; label: string; kind?: 'plain' | 'quiet' }

/** Asks for what failed or is no longer kept. */
export function SetAgain({ workspace, batch, label, kind }: Props) {
  const done = useDone()
  return (
    <ActionButton
      action={repeatSheetBatchAction}
      workspace={workspace}
      input={{ batch }}
      kind={kind}
      onDone={() => done('They are being set again.')}
    >
      {label}
    </ActionButton>
  )
}
