'use client'

import { FormNumber } from '@/components/ui/form/form-field'
import { FormWeekdays, tickWeekdays } from '@/components/ui/form/form-weekdays'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateFoodLimitsAction } from '@/lib/features/food-room/actions'
import type { FoodLimitsRow } from '@/lib/features/food-room/data'
import { updateFoodLimitsSchema } from '@/lib/features/food-room/schema'

type Props = { workspace: string; limits: FoodLimitsRow }

export function FoodLimitsForm({ workspace, limits }: Props) {
  const done = useDone()
  const { version, shelfPlaces, minutesPerStartDay, startWeekdays, serviceLevel } = limits
  return (
    <RecordForm
      key={version}
      name="food-limits"
      schema={updateFoodLimitsSchema}
      action={updateFoodLimitsAction}
      workspace={workspace}
      defaultValues={{
        version,
        shelfPlaces: shelfPlaces ?? undefined,
        minutesPerStartDay: minutesPerStartDay ?? undefined,
        startWeekdays: tickWeekdays(startWeekdays),
        servicePercent: Math.round(serviceLevel * 1000) / 10,
      }}
      onDone={() => done('Plans keep to it from now on.')}
      nextValues={({ version: next }, typed) => ({ ...typed, version: next })}
      submitLabel="Keep the limits"
    >
      <FormNumber name="shelfPlaces" label="Jars that can stand at once" isWhole isOptional />
      <FormNumber name="minutesPerStartDay" label="Time on a start day" unit="minutes" isWhole isOptional />
      <FormWeekdays name="startWeekdays" label="Jars are started on" />
      <FormNumber
        name="servicePercent"
        label="How sure nobody goes short"
        unit="%"
        hint="Chance per week and stage. More costs more jars and more waste."
      />
    </RecordForm>
  )
}
