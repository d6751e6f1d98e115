'use client'

import { useWatch } from 'react-hook-form'
import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormRadio } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordHarvestAction } from '@/lib/features/culture/actions'
import { harvestFormSchema } from '@/lib/features/culture/schema'

type Props = { workspace: string; culture: string; label: string; line: string; today: string }

const MEASURES = [
  { value: 'about', label: 'About' },
  { value: 'counted', label: 'Counted' },
  { value: 'weighed', label: 'Weighed' },
]

/** What one fly weighs, about; to be corrected by whoever has weighed a hundred. */
const USUAL_MG: Record<string, number> = { melanogaster: 0.9, hydei: 2.3 }

export function Harvest({ workspace, culture, label, line, today }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Harvest" kind="filled" title={`Harvest of ${label}`}>
      {({ close }) => (
        <RecordForm
          name={`harvest-${culture}`}
          schema={harvestFormSchema}
          action={recordHarvestAction}
          workspace={workspace}
          defaultValues={{ culture, on: today, measure: 'about', itemMg: USUAL_MG[line] }}
          onDone={({ count }) => {
            close()
            done(`${label}: ${count} taken.`)
          }}
          submitLabel="Record the harvest"
        >
          <FormRadio name="measure" label="How" choices={MEASURES} look="tiles" />
          <Amount />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function Amount() {
  const measure = useWatch({ name: 'measure' })
  if (measure === 'weighed')
    return (
      <>
        <FormNumber name="weightMg" label="They weigh" unit="mg" />
        <FormNumber name="itemMg" label="One weighs" unit="mg" hint="Weigh a hundred once and divide." />
      </>
    )
  return (
    <>
      <FormNumber name="count" label="How many" isWhole />
      {measure === 'about' ? (
        <div className="grid grid-cols-2 gap-4">
          <FormNumber name="low" label="At least" isWhole isOptional />
          <FormNumber name="high" label="At most" isWhole isOptional />
        </div>
      ) : null}
    </>
  )
}
