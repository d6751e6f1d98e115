'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { revokePublicLinkAction } from '@/lib/features/public-link/actions'

type Of = { individual: string } | { eggCase: string } | { lot: string }
type Props = { workspace: string; of: Of; version: number; label?: string }

/** Closes the page behind the codes of sheets: they lead nowhere from now on. */
export function ClosePage({ workspace, of, version, label = 'Close it' }: Props) {
  const done = useDone()
  return (
    <DialogButton label={label} kind="quiet" title="Close the public page?">
      {({ close }) => (
        <div className="space-y-4">
          <p>The code on every sheet printed so far will lead nowhere. The next sheet gets a new one.</p>
          <ActionButton
            action={revokePublicLinkAction}
            workspace={workspace}
            input={{ ...of, version }}
            kind="filled"
            onDone={() => {
              close()
              done('The page is closed.')
            }}
          >
            Close it
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
