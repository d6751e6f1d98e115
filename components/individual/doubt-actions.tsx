'use client'

import { useState } from 'react'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { ShownDoubt } from '@/lib/features/growth-fit/schema'
import { confirmMoultDayAction, updateMoultDayAction } from '@/lib/features/moult/actions'

type Props = { workspace: string; doubt: ShownDoubt }
type Done =
  | { kind: 'moved'; version: number; before: { on: string; seenFrom: string | null } }
  | { kind: 'confirmed'; version: number }

/** One tap moves the moult to the day a slip of the pen explains, or says that it is right; the next one undoes that. */
export function DoubtActions({ workspace, doubt }: Props) {
  const [done, setDone] = useState<Done | null>(null)
  if (done) return <Undo workspace={workspace} doubt={doubt} done={done} onUndone={() => setDone(null)} />
  const { moultId: moult, version, likelyOn } = doubt
  return (
    <div className="flex flex-wrap gap-3">
      {likelyOn ? (
        <ActionButton
          action={updateMoultDayAction}
          workspace={workspace}
          input={{ moult, version, on: likelyOn }}
          onDone={({ version: now, before }) => setDone({ kind: 'moved', version: now, before })}
        >
          It was {writeDay(likelyOn)}
        </ActionButton>
      ) : null}
      <ActionButton
        action={confirmMoultDayAction}
        workspace={workspace}
        input={{ moult, version, isRight: true }}
        kind="quiet"
        onDone={({ version: now }) => setDone({ kind: 'confirmed', version: now })}
      >
        {writeDay(doubt.on)} is right
      </ActionButton>
    </div>
  )
}

function Undo({ workspace, doubt, done, onUndone }: Props & { done: Done; onUndone: () => void }) {
  const refresh = useDone()
  const undone = () => {
    onUndone()
    refresh('It stands as it was.')
  }
  const { moultId: moult } = doubt
  const { version } = done
  return (
    <div className="flex flex-wrap items-center gap-3">
      <p role="status">
        {done.kind === 'moved'
          ? `Moved to ${doubt.likelyOn ? writeDay(doubt.likelyOn) : 'the day that fits'}. The forecasts follow in a moment.`
          : 'Kept. It is not asked about again.'}
      </p>
      {done.kind === 'moved' ? (
        <ActionButton
          action={updateMoultDayAction}
          workspace={workspace}
          input={{
            moult,
            version,
            on: done.before.on,
            ...(done.before.seenFrom ? { seenFrom: done.before.seenFrom } : {}),
          }}
          kind="quiet"
          onDone={undone}
        >
          Undo
        </ActionButton>
      ) : (
        <ActionButton
          action={confirmMoultDayAction}
          workspace={workspace}
          input={{ moult, version, isRight: false }}
          kind="quiet"
          onDone={undone}
        >
          Undo
        </ActionButton>
      )}
    </div>
  )
}
