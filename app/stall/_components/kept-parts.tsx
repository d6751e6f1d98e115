'use client'

import { KeptHere, NothingKept } from '@/components/offline/kept-here'
import type { PageCopy } from '@/components/offline/use-page-copy'
import type { StallState } from '@/components/stall/stall-device'
import { isUnsentReceipt } from '@/components/stall/stall-store'
import { Notice } from '@/components/ui/notice'

type Props = { state: StallState; copy: PageCopy; onSignIn: () => void }

/** What this device has: the boxes it sells from, and the receipts that wait. */
export function KeptParts({ state, copy, onSignIn }: Props) {
  const { parts, receipts, who, isSignedOut } = state
  const own = parts.filter(({ person }) => who === null || person.id === who.person.id)
  const others = receipts.filter((one) => isUnsentReceipt(one) && who && one.sent.personId !== who.person.id)
  return (
    <KeptHere
      title="Counter at a show"
      asWhom={who && !isSignedOut ? `Selling as ${who.person.name}.` : ''}
      overPlainHttp="Over plain http this page cannot open without a connection: leave it open. Receipts are kept all the same."
      whatStays="Receipts that were not sent stay here, and are sent after signing in."
      {...{ copy, isSignedOut, onSignIn }}
    >
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
    </KeptHere>
  )
}

function Nothing({ state: { who } }: { state: StallState }) {
  return (
    <NothingKept
      title="No show box on this device"
      places={(who?.workspaces ?? []).filter(({ maySell }) => maySell)}
      path="sales/boxes"
      sayPlace={(name) => (name ? `Show boxes of ${name}` : 'Show boxes')}
    >
      Pack a box in the workspace and open it here once, with a connection. From then on this device sells
      from it without one.
    </NothingKept>
  )
}
