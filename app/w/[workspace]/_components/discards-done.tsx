'use client'

import type { ButtonStyle } from '@/components/ui/button-style'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { writeCount } from '@/lib/domain/calendar/wording'
import { recordDiscardsAction } from '@/lib/features/culture/actions'

type Props = { workspace: string; cultures: readonly string[]; look: ButtonStyle['kind'] }

/** The jars of the task leave the shelf in one tap. */
export function DiscardsDone({ workspace, cultures, look }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind={look}
      action={recordDiscardsAction}
      workspace={workspace}
      input={{ cultures }}
      onDone={({ discarded }) => done(`${writeCount(discarded, 'jar')} discarded.`)}
    >
      Discarded
    </ActionButton>
  )
}
