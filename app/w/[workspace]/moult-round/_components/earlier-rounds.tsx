'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { writeCount } from '@/lib/domain/calendar/wording'
import { archiveMoultRoundAction } from '@/lib/features/moult/actions'

type Line = {
  id: string
  day: string
  walkedBy: string | null
  isFinished: boolean
  looks: number
  moults: number
}

/** Rounds of late, each to be taken back whole. */
export function EarlierRounds({ workspace, rounds }: { workspace: string; rounds: readonly Line[] }) {
  const done = useDone()
  if (rounds.length === 0) return null
  return (
    <section className="mt-12">
      <h2>Rounds of late</h2>
      <ul className="mt-2 max-w-2xl divide-y divide-line border-line border-y">
        {rounds.map(({ id, day, walkedBy, isFinished, looks, moults }) => (
          <li key={id} className="flex flex-wrap items-center justify-between gap-x-4 gap-y-1 py-2">
            <span>
              <span className="font-semibold">{day}</span> {writeCount(looks, 'cup')} seen,{' '}
              {writeCount(moults, 'moult')}
              <span className="text-small text-soft">
                {walkedBy ? ` · ${walkedBy}` : ''}
                {isFinished ? '' : ' · not finished'}
              </span>
            </span>
            <ActionButton
              kind="quiet"
              action={archiveMoultRoundAction}
              workspace={workspace}
              input={{ round: id }}
              onDone={() => done('The round is taken back, with its moults.')}
            >
              Take back
            </ActionButton>
          </li>
        ))}
      </ul>
    </section>
  )
}
