'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveHarvestAction } from '@/lib/features/culture/actions'

type Props = { workspace: string; harvest: string; version: number; words: string }

export function TakeBackHarvest({ workspace, harvest, version, words }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={archiveHarvestAction}
      workspace={workspace}
      input={{ harvest, version }}
      onDone={() => done('Taken back.')}
    >
      Take back<span className="sr-only"> the harvest of {words}</span>
    </ActionButton>
  )
}
