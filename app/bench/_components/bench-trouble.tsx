'use client'

import type { ReactNode } from 'react'
import type { Entry } from '@/components/bench/queue/entry'
import { ownership } from '@/components/bench/queue/send'
import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import { KeptForOthers } from './kept-for-others'
import { saveAsFile } from './save-as-file'
import type { OpenRun, RunAtBench } from './use-bench-run'

type Props = { open: OpenRun; bench: RunAtBench }

/** What the keeper has to decide, above the bench. Nothing is thrown away without being asked. */
export function BenchTrouble({ open, bench }: Props) {
  const { state, device, kept } = open
  const { refused, waiting } = bench
  const isElsewhere = waiting.some((entry) => state.who !== null && ownership(entry, state.who) !== 'own')
  if (refused)
    return (
      <Above>
        <Refused entry={refused} open={open} bench={bench} />
      </Above>
    )
  if (isElsewhere)
    return (
      <Above>
        <KeptForOthers state={state} />
      </Above>
    )
  if (state.isSignedOut && state.isLater)
    return (
      <Above>
        <Notice
          state="due"
          what="Signed out. Go on counting."
          why={`${sayWaiting(waiting.length)} ${kept.person.name} signs in to send it.`}
          next={<Button onClick={() => device.setLater(false)}>Sign in</Button>}
        />
      </Above>
    )
  if (!state.isLasting)
    return (
      <Above>
        <Notice
          state="due"
          what="This browser keeps nothing on the device."
          why="Leave the page open until everything has been sent."
        />
      </Above>
    )
  return null
}

function Above({ children }: { children: ReactNode }) {
  return <div className="fixed inset-x-0 top-0 z-50 mx-auto max-w-xl p-3">{children}</div>
}

function sayWaiting(count: number): string {
  if (count === 0) return 'What you tap is kept on this device.'
  return count === 1 ? '1 entry is kept on this device.' : `${count} entries are kept on this device.`
}

/** Only its own clutch waits behind a refused entry: the count is put right, or the entry is left out. */
function Refused({ entry, open: { kept }, bench }: { entry: Entry } & Props) {
  const { waiting } = bench
  return (
    <Notice
      state="late"
      isAnnounced
      what={entry.refusal?.message ?? 'An entry was refused.'}
      why={`${sayWaiting(waiting.length)} Nothing is lost, and other clutches go on.`}
      next={
        <>
          {entry.refusal?.code === 'more-than-left' ? (
            <Button onClick={() => bench.raise(entry)}>There were more: raise the count</Button>
          ) : (
            <a
              href={`/w/${kept.workspace.slug}/clutches/${kept.clutch.id}`}
              className="target inline-flex items-center font-semibold underline underline-offset-4"
            >
              Look at {kept.clutch.label}
            </a>
          )}
          <Button kind="quiet" onClick={() => bench.drop(entry)}>
            Leave this entry out
          </Button>
          <Button kind="quiet" onClick={() => saveAsFile(waiting)}>
            Save them as a file
          </Button>
        </>
      }
    />
  )
}
