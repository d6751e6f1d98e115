'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { writeDay } from '@/lib/domain/calendar/wording'
import { eraseBuyerAction } from '@/lib/features/buyer/actions'
import type { BuyerPage } from '@/lib/features/buyer/loaders'

export function EraseBuyer({ workspace, page }: { workspace: string; page: BuyerPage }) {
  const done = useDone()
  const { buyer, keepUntil, retentionYears } = page
  return (
    <DialogButton label="Forget this person" kind="quiet" title={`Forget ${buyer.name}?`}>
      {({ close }) => (
        <div className="space-y-4">
          <p>
            Their receipts keep number, day and figures. Name, address, mail, phone and note go, and cannot be
            brought back.
          </p>
          {keepUntil ? (
            <p>
              Receipts that name a buyer are kept here for {retentionYears}{' '}
              {retentionYears === 1 ? 'year' : 'years'}. So mail, phone and note go today; name and address
              stay locked until {writeDay(keepUntil)} and then go by themselves.
            </p>
          ) : null}
          <ActionButton
            action={eraseBuyerAction}
            workspace={workspace}
            input={{ id: buyer.id, version: buyer.version }}
            kind="filled"
            onDone={({ status }) => {
              close()
              done(status === 'erased' ? 'Forgotten.' : 'What may go has gone; the rest follows by itself.')
            }}
          >
            Forget this person
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
