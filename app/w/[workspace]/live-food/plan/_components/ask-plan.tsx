'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { createFoodPlanAction } from '@/lib/features/food-plan/actions'

const WEEKS = 10

export function AskPlan({ workspace, isFirst }: { workspace: string; isFirst: boolean }) {
  const done = useDone()
  return (
    <ActionButton
      kind="filled"
      action={createFoodPlanAction}
      workspace={workspace}
      input={{ weeks: WEEKS }}
      onDone={() => done('It is being planned. You may leave this page.')}
    >
      {isFirst ? 'Plan it' : 'Plan anew'}
    </ActionButton>
  )
}
