'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { endDeviceAction } from '@/lib/features/person/actions'

export function EndDevice({ id }: { id: string }) {
  const done = useDone()
  return (
    <ActionButton
      action={endDeviceAction}
      workspace=""
      input={{ id }}
      onDone={() => done('Signed out there.')}
    >
      Sign out there
    </ActionButton>
  )
}
