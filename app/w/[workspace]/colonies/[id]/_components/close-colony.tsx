'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { archiveColonyAction } from '@/lib/features/colony/actions'
import type { ColonyPage } from '@/lib/features/colony/loaders'
import { archiveColonySchema } from '@/lib/features/colony/schema'

export function CloseColony({ workspace, page }: { workspace: string; page: ColonyPage }) {
  const done = useDone()
  const { colony } = page
  return (
    <DialogButton label="Close it" kind="quiet" title={`Close ${colony.name}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`colony-close-${colony.id}`}
          schema={archiveColonySchema}
          action={archiveColonyAction}
          workspace={workspace}
          defaultValues={{ colony: colony.id, version: colony.version, on: page.today }}
          onDone={() => {
            close()
            done('Closed. Its container is free, its records stay.')
          }}
          submitLabel="Close it"
        >
          <FormDate name="on" label="Empty since" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
