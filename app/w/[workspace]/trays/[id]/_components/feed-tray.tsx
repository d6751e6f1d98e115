'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordTrayFeedingAction } from '@/lib/features/feeding/actions'
import type { TrayPage } from '@/lib/features/tray/loaders'
import { trayFeedingFormSchema } from '@/lib/features/tray/schema'

const RESULTS = [
  { value: 'ate', label: 'They ate' },
  { value: 'refused', label: 'They refused' },
]

export function FeedTray({ workspace, page }: { workspace: string; page: TrayPage }) {
  const done = useDone()
  const { tray, today } = page
  return (
    <DialogButton label="Fed" title={`Fed: ${tray.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`tray-feeding-${tray.id}`}
          schema={trayFeedingFormSchema}
          action={recordTrayFeedingAction}
          workspace={workspace}
          defaultValues={{ tray: tray.id, on: today, result: 'ate', prey: '' }}
          onDone={() => {
            close()
            done('The whole tray is recorded.')
          }}
          submitLabel="Record it"
        >
          <FormRadio name="result" label="What they did" choices={RESULTS} />
          <FormText name="prey" label="With what" isOptional />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
