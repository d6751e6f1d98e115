'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { archiveClearanceAction, createClearanceAction } from '@/lib/features/clearance/actions'
import { clearanceFormSchema } from '@/lib/features/clearance/schema'

/** Whoever may override what speaks against it says so; then it can be sold at the counter today. */
export function LetGo({ workspace, individual }: { workspace: string; individual: string }) {
  const done = useDone()
  return (
    <DialogButton
      label="Let it leave today"
      kind="quiet"
      title="Let it leave today all the same"
      className="-ms-4"
    >
      {({ close }) => (
        <RecordForm
          name="let-go"
          schema={clearanceFormSchema}
          action={createClearanceAction}
          workspace={workspace}
          defaultValues={{ individual }}
          onDone={() => {
            close()
            done('It may leave today.')
          }}
          submitLabel="Let it leave"
        >
          <FormText name="reason" label="Why" hint="It is recorded, with your name, beside the sale." />
        </RecordForm>
      )}
    </DialogButton>
  )
}

type BackProps = { workspace: string; clearance: string; version: number }

export function TakeBackLetting({ workspace, clearance, version }: BackProps) {
  const done = useDone()
  return (
    <div className="no-print -ms-4">
      <ActionButton
        action={archiveClearanceAction}
        workspace={workspace}
        input={{ clearance, version }}
        kind="quiet"
        onDone={() => done('Taken back.')}
      >
        Take that back
      </ActionButton>
    </div>
  )
}
