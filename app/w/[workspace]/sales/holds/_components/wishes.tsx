'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormDate, FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { addDays } from '@/lib/domain/calendar/date'
import type { ReservationsPage } from '@/lib/features/reservation/loaders'
import { createWishAction, endWishAction } from '@/lib/features/wish/actions'
import { createWishSchema } from '@/lib/features/wish/schema'

type Props = { workspace: string; page: ReservationsPage }

const SEXES = [
  { value: 'female', label: 'female' },
  { value: 'male', label: 'male' },
]
const USUAL_DAYS = 42

export function AddWish({ workspace, page }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Keep a wish" title="Keep a wish">
      {({ close }) => (
        <RecordForm
          name="wish"
          schema={createWishSchema}
          action={createWishAction}
          workspace={workspace}
          defaultValues={{
            ...{ buyer: page.buyers[0]?.value ?? '', species: page.species[0]?.value ?? '', count: 1 },
            ...{ sex: '', stage: '', by: addDays(page.today, USUAL_DAYS) },
          }}
          onDone={() => {
            close()
            done('The wish is kept.')
          }}
          submitLabel="Keep it"
        >
          <FormSelect name="buyer" label="For" choices={page.buyers} />
          <FormSelect name="species" label="Species" choices={page.species} />
          <FormNumber name="count" label="How many" isWhole />
          <FormSelect name="sex" label="Sex" isOptional placeholder="any" choices={SEXES} />
          <FormSelect name="stage" label="Instar" isOptional placeholder="any" choices={page.stages} />
          <FormDate name="by" label="By" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

export function EndWish({ workspace, wish }: { workspace: string; wish: { id: string; version: number } }) {
  const done = useDone()
  const input = { id: wish.id, version: wish.version }
  return (
    <div className="-ms-4 flex flex-wrap desk:ms-0">
      <ActionButton
        kind="quiet"
        action={endWishAction}
        workspace={workspace}
        input={{ ...input, as: 'filled' }}
        onDone={() => done('Met.')}
      >
        Met
      </ActionButton>
      <ActionButton
        kind="quiet"
        action={endWishAction}
        workspace={workspace}
        input={{ ...input, as: 'withdrawn' }}
        onDone={() => done('No longer wanted.')}
      >
        No longer wanted
      </ActionButton>
    </div>
  )
}
