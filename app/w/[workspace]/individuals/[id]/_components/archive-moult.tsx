'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveMoultAction } from '@/lib/features/moult/actions'

type Props = { workspace: string; moult: string; version: number }

/** Only the last moult: what follows from it is worked out anew. */
export function ArchiveMoult({ workspace, moult, version }: Props) {
  const done = useDone()
  return (
    <div className="no-print -ms-4">
      <ActionButton
        action={archiveMoultAction}
        workspace={workspace}
        input={{ moult, version }}
        kind="quiet"
        onDone={() => done('The moult is taken back.')}
      >
        Take it back
      </ActionButton>
    </div>
  )
}
