'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { endMembershipAction } from '@/lib/features/membership/actions'

type Props = { workspace: string; personId: string; name: string; isSelf: boolean }

export function EndMembership({ workspace, personId, name, isSelf }: Props) {
  const done = useDone()
  const title = isSelf ? 'Leave this workspace?' : `${name} no longer works here?`
  return (
    <DialogButton label={isSelf ? 'Leave' : 'End'} kind="quiet" title={title}>
      {({ close }) => (
        <div className="space-y-4">
          <p>
            {isSelf ? 'You are' : `${name} is`} shown nothing more from the next step on. What was recorded
            keeps its author, and a new invitation brings {isSelf ? 'you' : 'them'} back.
          </p>
          <ActionButton
            action={endMembershipAction}
            workspace={workspace}
            input={{ personId }}
            kind="filled"
            onDone={() => {
              if (isSelf) return window.location.assign('/')
              close()
              done(`${name} no longer works here.`)
            }}
          >
            {isSelf ? 'Leave' : 'End it'}
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
