'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordColonyMoveAction } from '@/lib/features/colony/actions'
import type { ColonyPage } from '@/lib/features/colony/loaders'
import { moveColonySchema } from '@/lib/features/colony/schema'

export function MoveColonyForm({ workspace, page }: { workspace: string; page: ColonyPage }) {
  const done = useDone()
  const { colony, zones } = page
  const others = zones.filter(({ value }) => value !== colony.zoneId)
  if (others.length === 0) return null
  return (
    <DialogButton label="Move" title={`Move ${colony.name}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`colony-move-${colony.id}`}
          schema={moveColonySchema}
          action={recordColonyMoveAction}
          workspace={workspace}
          defaultValues={{ colony: colony.id, on: page.today }}
          onDone={() => {
            close()
            done('Moved, and everybody with it.')
          }}
          submitLabel="Move it"
        >
          <FormSelect name="zone" label="To" choices={others} placeholder="Choose the zone" />
          <FormDate name="on" label="Since" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
