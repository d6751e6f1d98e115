'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { addDays } from '@/lib/domain/calendar/date'
import { createReservationAction, endReservationAction } from '@/lib/features/reservation/actions'
import type { ReservationsPage } from '@/lib/features/reservation/loaders'
import { reservationFormSchema } from '@/lib/features/reservation/schema'

type Props = { workspace: string; page: ReservationsPage }

/** A week is the usual time to make up one's mind. */
const USUAL_DAYS = 7

export function AddHold({ workspace, page }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Hold animals" kind="filled" title="Hold animals for somebody">
      {({ close }) => (
        <RecordForm
          name="hold"
          schema={reservationFormSchema}
          action={createReservationAction}
          workspace={workspace}
          defaultValues={{ buyer: page.buyers[0]?.value ?? '', until: addDays(page.today, USUAL_DAYS) }}
          onDone={({ ids }) => {
            close()
            done(ids.length === 1 ? 'It is held.' : `${ids.length} are held.`)
          }}
          submitLabel="Hold them"
        >
          <FormSelect name="buyer" label="For" choices={page.buyers} />
          <FormText
            name="labels"
            label="Labels"
            hint="As they stand on the cups, with commas between them."
          />
          <FormDate name="until" label="Until" hint="The last day. After it the hold ends by itself." />
        </RecordForm>
      )}
    </DialogButton>
  )
}

export function Release({ workspace, hold }: { workspace: string; hold: { id: string; version: number } }) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={endReservationAction}
      workspace={workspace}
      input={{ id: hold.id, version: hold.version }}
      onDone={() => done('It is free again.')}
    >
      Let it go free
    </ActionButton>
  )
}
