'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import type { IndividualPage } from '@/lib/features/individual/loaders'
import { revokePublicLinkAction } from '@/lib/features/public-link/actions'

/** The page behind the code on its sheets: open or not, and how to close it. */
export function PublicPagePart({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const { publicLink, history, may, animal } = page
  return (
    <section>
      <h2>Care sheets</h2>
      <p className="mt-2 text-small text-soft">{saySheets(history.sheets.count, publicLink !== null)}</p>
      {publicLink ? (
        <div className="mt-2 flex flex-wrap items-center gap-x-4 gap-y-2">
          <a href={publicLink.address} target="_blank" rel="noreferrer" className="py-2.5">
            See the public page
          </a>
          {may.revoke ? (
            <ClosePage {...{ workspace, individual: animal.id, version: publicLink.version }} />
          ) : null}
        </div>
      ) : null}
    </section>
  )
}

function saySheets(count: number, isOpen: boolean): string {
  if (count === 0) return 'None was printed yet. Printing the first one opens a public page behind its code.'
  const printed = count === 1 ? 'One was printed.' : `${count} were printed.`
  return isOpen
    ? `${printed} The code on them leads to a page that anybody with the sheet can read.`
    : `${printed} Their page is closed.`
}

type CloseProps = { workspace: string; individual: string; version: number }

function ClosePage({ workspace, individual, version }: CloseProps) {
  const done = useDone()
  return (
    <DialogButton label="Close it" kind="quiet" title="Close the public page?">
      {({ close }) => (
        <div className="space-y-4">
          <p>The code on every sheet printed so far will lead nowhere. The next sheet gets a new one.</p>
          <ActionButton
            action={revokePublicLinkAction}
            workspace={workspace}
            input={{ individual, version }}
            kind="filled"
            onDone={() => {
              close()
              done('The page is closed.')
            }}
          >
            Close it
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
