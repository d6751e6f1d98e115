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

/** What the keeper has to decide, at the head of the bench. Nothing is thrown away without being asked. */
export function BenchTrouble({ open, bench }: Props) {
  const { state, device, kept } = open
  const { refused, waiting } = bench
  const isElsewhere = waiting.some((entry) => state.who !== null && ownership(entry, state.who) !== 'own')
  if (refused)
    return (
      <AtHead>
        <Refused entry={refused} open={open} bench={bench} />
      </AtHead>
    )
  if (isElsewhere)
    return (
      <AtHead>
        <KeptForOthers state={state} />
      </AtHead>
    )
  if (state.isSignedOut)
    return (
      <AtHead>
        <Notice
          state="due"
          what="Signed out. Go on counting."
          why={`${sayWaiting(waiting.length)} ${kept.person.name} signs in to send it.`}
          next={<Button onClick={() => device.setSigningIn(true)}>Sign in</Button>}
        />
      </AtHead>
    )
  if (!state.isLasting)
    return (
      <AtHead>
        <Notice
          state="due"
          what="This browser keeps nothing on the device."
          why="Leave the page open until everything has been sent."
        />
      </AtHead>
    )
  return null
}

function AtHead({ children }: { children: ReactNode }) {
  return <div className="mt-2 max-w-xl">{children}</div>
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
