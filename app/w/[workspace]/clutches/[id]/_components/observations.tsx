'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveClutchObservationAction } from '@/lib/features/clutch-observation/actions'

export type SeenLine = { id: string; version: number; day: string; text: string; by: string | null }

/** What was seen, latest first, each to be taken back. */
export function Observations({
  lines,
  workspace,
  mayWrite,
}: {
  lines: readonly SeenLine[]
  workspace: string
  mayWrite: boolean
}) {
  const done = useDone()
  if (lines.length === 0) return null
  return (
    <section className="mt-8">
      <h2>What was seen</h2>
      <ul className="mt-2 max-w-2xl divide-y divide-line border-line border-y">
        {lines.map(({ id, version, day, text, by }) => (
          <li key={id} className="flex flex-wrap items-center justify-between gap-x-4 gap-y-1 py-2">
            <span>
              <span className="font-semibold">{day}</span> {text}
              {by ? <span className="text-small text-soft"> · {by}</span> : null}
            </span>
            {mayWrite ? (
              <ActionButton
                kind="quiet"
                action={archiveClutchObservationAction}
                workspace={workspace}
                input={{ observation: id, version }}
                onDone={() => done('Taken back. The deadline is as it was before.')}
              >
                Take back
              </ActionButton>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  )
}
