'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveReadingBatchAction } from '@/lib/features/reading/actions'

export function TakeBackReadings({ workspace, batchId }: { workspace: string; batchId: string }) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={archiveReadingBatchAction}
      workspace={workspace}
      input={{ batchId }}
      onDone={() => done('Taken back. The forecasts no longer count it.')}
    >
      Take back
    </ActionButton>
  )
}
