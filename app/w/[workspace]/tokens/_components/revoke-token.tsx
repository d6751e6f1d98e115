'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { revokeApiTokenAction } from '@/lib/features/api-token/actions'

type Props = { workspace: string; id: string; name: string }

export function RevokeToken({ workspace, id, name }: Props) {
  const done = useDone()
  return (
    <ActionButton
      action={revokeApiTokenAction}
      workspace={workspace}
      input={{ id }}
      onDone={() => done(`“${name}” works no more.`)}
    >
      Revoke<span className="sr-only"> {name}</span>
    </ActionButton>
  )
}
