'use client'

import { useRouter } from 'next/navigation'
import { useWatch } from 'react-hook-form'
import { FormCheckbox, FormDate, FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import type { Choice } from '@/components/ui/select'
import { showToast } from '@/components/ui/toast'
import { recordHatchAction } from '@/lib/features/egg-case/actions'
import { newHatchFormSchema } from '@/lib/features/egg-case/schema'

type Props = {
  workspace: string
  eggCaseId: string
  today: string
  /** Of this egg case, from earlier days. */
  clutches: Choice[]
  /** Of other egg cases of the same mother, from the last days. */
  siblings: Choice[]
}

/** Two fields: a day, and how many. Nobody counts 140 nymphs at seven in the morning, so "about" is one tick. */
export function HatchForm({ workspace, eggCaseId, today, clutches, siblings }: Props) {
  const router = useRouter()
  const latest = clutches.at(-1)?.value ?? (siblings.length > 0 ? NEW_CLUTCH.value : undefined)
  return (
    <RecordForm
      name={`hatch-${eggCaseId}`}
      schema={newHatchFormSchema}
      action={recordHatchAction}
      workspace={workspace}
      defaultValues={{ eggCase: eggCaseId, on: today, isAbout: true, clutch: latest }}
      onDone={({ clutchId }) => {
        showToast({ what: 'The hatch is recorded.' })
        router.push(`/w/${workspace}/clutches/${clutchId}`)
      }}
      submitLabel="Record hatch"
    >
      <FormDate name="on" label="Hatched on" />
      <FormNumber name="count" label="How many" isWhole />
      <FormCheckbox name="isAbout" label="About, nobody has counted them" />
      <Range />
      {clutches.length + siblings.length > 0 ? (
        <FormSelect
          name="clutch"
          label="Goes to"
          choices={[
            ...clutches.map(({ value, label }) => ({ value, label: `Clutch ${label}` })),
            NEW_CLUTCH,
            ...siblings.map(({ value, label }) => ({ value, label: `Clutch ${label}, of the same mother` })),
          ]}
          hint="Siblings of one hatch are one clutch, also when it takes several days, or when egg cases of one mother hatch in one tub."
        />
      ) : null}
    </RecordForm>
  )
}

const NEW_CLUTCH = { value: 'new', label: 'A clutch of their own' }

function Range() {
  const isAbout: unknown = useWatch({ name: 'isAbout' })
  if (isAbout !== true) return null
  return (
    <div className="grid grid-cols-2 gap-5">
      <FormNumber name="low" label="At least" isWhole isOptional />
      <FormNumber name="high" label="At most" isWhole isOptional />
    </div>
  )
}
