'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordTrayMoultsAction } from '@/lib/features/moult/actions'
import type { TrayPage } from '@/lib/features/tray/loaders'
import { trayMoultsFormSchema } from '@/lib/features/tray/schema'

export function MoultTray({ workspace, page }: { workspace: string; page: TrayPage }) {
  const done = useDone()
  const { tray, count, today } = page
  return (
    <DialogButton label="Some moulted" kind="filled" title={`Moulted on ${tray.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`tray-moults-${tray.id}`}
          schema={trayMoultsFormSchema}
          action={recordTrayMoultsAction}
          workspace={workspace}
          defaultValues={{ tray: tray.id, on: today, count: undefined }}
          onDone={({ recorded }) => {
            close()
            done(recorded === 1 ? 'One moult is recorded.' : `${recorded} moults are recorded.`)
          }}
          submitLabel="Record them"
        >
          <FormNumber name="count" label="Cups with a skin" isWhole hint={`Of ${count}.`} />
          <FormDate name="on" label="Noticed on" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
