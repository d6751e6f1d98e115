'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordHarvestAction } from '@/lib/features/culture/actions'

type Props = { workspace: string; culture: string; label: string; today: string; about: number }

/** One tap: about as many as last time. */
export function QuickHarvest({ workspace, culture, label, today, about }: Props) {
  const done = useDone()
  return (
    <ActionButton
      action={recordHarvestAction}
      workspace={workspace}
      input={{ culture, on: today, measure: 'about', count: about }}
      kind="plain"
      onDone={() => done(`${label}: about ${about} taken.`)}
    >
      About {about}
      <span className="sr-only"> taken out of {label}</span>
    </ActionButton>
  )
}
