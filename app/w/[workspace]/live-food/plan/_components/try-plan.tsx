'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createFoodPlanAction } from '@/lib/features/food-plan/actions'
import { askFoodPlanSchema } from '@/lib/features/food-plan/schema'

type Props = { workspace: string; hatches: { value: string; label: string }[] }

/** What would be if: nothing of it is kept as the plan, it is only shown beside it. */
export function TryPlan({ workspace, hatches }: Props) {
  const done = useDone()
  return (
    <DialogButton label="What if …" kind="plain" title="What if …">
      {({ close }) => (
        <RecordForm
          name="try-plan"
          schema={askFoodPlanSchema}
          action={createFoodPlanAction}
          workspace={workspace}
          defaultValues={{ weeks: 10, hatch: '' }}
          onDone={() => {
            close()
            done('It is being tried.')
          }}
          submitLabel="Try it"
        >
          <FormNumber name="shelfPlaces" label="Jars that can stand at once" isWhole isOptional />
          <FormNumber name="servicePercent" label="How sure nobody goes short" unit="%" isOptional />
          <FormSelect name="hatch" label="Egg cases" isOptional placeholder="As they are" choices={hatches} />
        </RecordForm>
      )}
    </DialogButton>
  )
}
