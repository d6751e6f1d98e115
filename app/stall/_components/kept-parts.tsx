'use client'

import type { PageCopy } from '@/components/offline/use-page-copy'
import { PlainFrame } from '@/components/shell/plain-frame'
import type { StallState } from '@/components/stall/stall-device'
import { isUnsentReceipt } from '@/components/stall/stall-store'
import { Button } from '@/components/ui/button'
import { buttonStyle } from '@/components/ui/button-style'
import { Notice } from '@/components/ui/notice'

type Props = { state: StallState; copy: PageCopy; onSignIn: () => void }

/** What this device has: the boxes it sells from, and the receipts that wait. */
export function KeptParts({ state, copy, onSignIn }: Props) {
  const { parts, receipts, who, isSignedOut } = state
  const own = parts.filter(({ person }) => who === null || person.id === who.person.id)
  const others = receipts.filter((one) => isUnsentReceipt(one) && who && one.sent.personId !== who.person.id)
  return (
    <PlainFrame
      aside={
        <a href="/" className="target inline-flex items-center text-small underline">
          To the workspaces
        </a>
      }
    >
      <h1>Counter at a show</h1>
      <p className="mt-1 mb-6 text-small text-soft">
        {who && !isSignedOut ? `Selling as ${who.person.name}. ` : ''}
        {sayCopy(copy)}
      </p>
      <div className="space-y-4">
        {isSignedOut ? (
          <Notice
            state="due"
            what="Nobody is signed in on this device."
            why="Receipts that were not sent stay here, and are sent after signing in."
            next={<Button onClick={onSignIn}>Sign in</Button>}
          />
        ) : null}
        {others.length > 0 ? (
          <Notice
            state="due"
            what={`${others.length} ${others.length === 1 ? 'receipt' : 'receipts'} by somebody else ${others.length === 1 ? 'is' : 'are'} kept on this device.`}
            why="Not sent under your name: whoever wrote them has to sign in here."
          />
        ) : null}
        {own.length === 0 ? (
          <Nothing state={state} />
        ) : (
          <ul aria-label="Boxes on this device" className="divide-y divide-line border-line border-y">
            {own.map(({ box, part, workspace, animals }) => (
              <li key={`${workspace.id} ${part.series}`}>
                <a
                  href={`#${workspace.id}/${box.id}/${part.number}`}
                  className="target flex flex-wrap items-baseline justify-between gap-x-4 py-3 no-underline hover:bg-wash"
                >
                  <span className="font-semibold text-lead underline underline-offset-4">
                    {box.name}, part {part.series}
                  </span>
                  <span className="text-small text-soft">
                    {animals.length} animals, {workspace.name}
                  </span>
                </a>
              </li>
            ))}
          </ul>
        )}
      </div>
    </PlainFrame>
  )
}

function sayCopy(copy: PageCopy): string {
  if (copy === 'kept') return 'This page opens without a connection.'
  if (copy === 'plain-http')
    return 'Over plain http this page cannot open without a connection: leave it open. Receipts are kept all the same.'
  return copy === 'making' ? 'Getting ready to work without a connection …' : ''
}

function Nothing({ state: { who } }: { state: StallState }) {
  const places = (who?.workspaces ?? []).filter(({ maySell }) => maySell)
  return (
    <div className="max-w-xl">
      <h2>No show box on this device</h2>
      <p className="mt-2 text-soft">
        Pack a box in the workspace and open it here once, with a connection. From then on this device sells
        from it without one.
      </p>
      <div className="mt-4 flex flex-wrap gap-3">
        {places.map(({ id, slug, name }, index) => (
          <a
            key={id}
            href={`/w/${slug}/sales/boxes`}
            className={buttonStyle({ kind: index === 0 ? 'filled' : 'plain' })}
          >
            {places.length === 1 ? 'Show boxes' : `Show boxes of ${name}`}
          </a>
        ))}
      </div>
    </div>
  )
}
