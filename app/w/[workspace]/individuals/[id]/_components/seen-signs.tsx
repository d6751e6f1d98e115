'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveSignsAction } from '@/lib/features/look/actions'

type Props = { workspace: string; individual: string; on: string }

/** Takes back what a look showed; that somebody looked stays on record. */
export function ArchiveSigns({ workspace, individual, on }: Props) {
  const done = useDone()
  return (
    <span className="no-print ms-3 inline-block">
      <ActionButton
        action={archiveSignsAction}
        workspace={workspace}
        input={{ individual, on }}
        kind="quiet"
        onDone={() => done('Taken back.')}
      >
        Take back
      </ActionButton>
    </span>
  )
}
