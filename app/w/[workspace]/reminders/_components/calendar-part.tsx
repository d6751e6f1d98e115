'use client'

import { CopyButton } from '@/components/ui/copy-button'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { createCalendarFeedAction, revokeCalendarFeedAction } from '@/lib/features/calendar-feed/actions'

type Props = { workspace: string; address: string | null }

/** The address is a key: whoever has it reads the dates. So it can be taken back, and made anew. */
export function CalendarPart({ workspace, address }: Props) {
  const done = useDone()
  if (!address)
    return (
      <div className="mt-4">
        <ActionButton
          action={createCalendarFeedAction}
          workspace={workspace}
          input={{}}
          onDone={() => done('Put the address into your calendar.')}
        >
          Make an address
        </ActionButton>
      </div>
    )
  return (
    <div className="mt-4 space-y-4">
      <p className="select-all break-all border border-edge bg-sheet p-3 text-small">{address}</p>
      <p className="text-small text-soft">
        In your calendar choose to subscribe to an address and paste it. Whoever has it can read the dates:
        keep it to yourself, and take it back if it went astray.
      </p>
      <div className="flex flex-wrap gap-3">
        <CopyButton text={address} label="Copy it" />
        <ActionButton
          action={createCalendarFeedAction}
          workspace={workspace}
          input={{}}
          onDone={() => done('The old address works no more. Put the new one into your calendar.')}
        >
          Another address
        </ActionButton>
        <ActionButton
          action={revokeCalendarFeedAction}
          workspace={workspace}
          input={{}}
          onDone={() => done('The address works no more.')}
        >
          Take it back
        </ActionButton>
      </div>
    </div>
  )
}
