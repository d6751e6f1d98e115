'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordColonyEntryAction } from '@/lib/features/colony/actions'
import type { ColonyPage } from '@/lib/features/colony/loaders'
import { newColonyEntryFormSchema } from '@/lib/features/colony/schema'

/** Siblings into the colony. Too little room is recorded with the reason; more than one instar apart is refused. */
export function PutIn({ workspace, page }: { workspace: string; page: ColonyPage }) {
  const done = useDone()
  const { colony, clutches, stages, span } = page
  if (clutches.length === 0) return null
  return (
    <DialogButton
      label="Put a clutch in"
      kind={colony.animals > 0 ? 'plain' : 'filled'}
      title={`Into ${colony.name}`}
      place="sheet"
    >
      {({ close }) => (
        <RecordForm
          name={`colony-entry-${colony.id}`}
          schema={newColonyEntryFormSchema}
          action={recordColonyEntryAction}
          workspace={workspace}
          defaultValues={{ colony: colony.id, on: page.today }}
          onDone={() => {
            close()
            done('They live in the colony now.')
          }}
          submitLabel="Record it"
        >
          <p className="text-small text-soft">
            {span
              ? `Inside: ${span.least === span.most ? span.least : `${span.least} to ${span.most}`}. Nobody may be more than one instar from another.`
              : 'Nobody may be more than one instar from another.'}{' '}
            Feed them well first: hunger is what starts it.
          </p>
          <FormSelect name="clutch" label="Clutch" choices={clutches} placeholder="Choose the clutch" />
          <div className="grid gap-5 desk:grid-cols-2">
            <FormSelect name="leastMoults" label="The smallest" choices={stages} placeholder="Choose" />
            <FormSelect name="mostMoults" label="The largest" choices={stages} placeholder="Choose" />
          </div>
          <FormDate name="on" label="Since" />
          <FormText
            name="overrideReason"
            label="Why, if it is crowded"
            hint={colony.capacity === null ? undefined : `There is room for ${colony.capacity} at this size.`}
            isOptional
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
