'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { houseClutchAction } from '@/lib/features/housing/actions'
import { clutchHousingFormSchema } from '@/lib/features/housing/schema'
import type { ClutchActionProps } from './clutch-actions'

/** Siblings put into a box together; past their day it is recorded with the reason, never refused. */
export function IntoBox({ workspace, today, clutch, zones, boxes, isDue }: ClutchActionProps) {
  const done = useDone()
  return (
    <DialogButton label="Into a box" title={`Put ${clutch.label} into a box`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`box-${clutch.id}`}
          schema={clutchHousingFormSchema}
          action={houseClutchAction}
          workspace={workspace}
          defaultValues={{ clutch: clutch.id, on: today, zone: clutch.zoneId, overrideReason: '' }}
          onDone={() => {
            close()
            done('How crowded they are counts from now on.')
          }}
          submitLabel="Record it"
        >
          {isDue ? (
            <p className="text-small text-soft">
              Their day to be apart has come. It is recorded all the same, and they stay on the day sheet.
            </p>
          ) : null}
          <FormSelect name="containerKind" label="Box" choices={boxes} placeholder="Choose the box" />
          <FormSelect name="zone" label="In" choices={zones} />
          <FormDate name="on" label="Since" />
          {isDue ? <FormText name="overrideReason" label="Why together all the same" isOptional /> : null}
        </RecordForm>
      )}
    </DialogButton>
  )
}
