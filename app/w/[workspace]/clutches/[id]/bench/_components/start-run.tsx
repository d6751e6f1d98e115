'use client'

import { useState } from 'react'
import { FormNumber, FormRadio, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import type { RadioChoice } from '@/components/ui/radio-group'
import { type Choice, Select } from '@/components/ui/select'
import { startSeparationAction } from '@/lib/features/separation/actions'
import { startSeparationSchema } from '@/lib/features/separation/schema'

type Props = {
  workspace: string
  workspaceId: string
  clutchId: string
  today: string
  together: number
  kinds: RadioChoice[]
  zones: Choice[]
  zoneId: string | null
  stages: Choice[]
  likelyMoults: number
}

/** Container, size of the run, where the cups go: then nothing more has to be asked until the end. */
export function StartRun(props: Props) {
  const { workspace, clutchId, today, together, kinds, zones, zoneId, stages } = props
  const [moults, setMoults] = useState(String(props.likelyMoults))
  return (
    <RecordForm
      name={`start-${clutchId}`}
      schema={startSeparationSchema}
      action={startSeparationAction}
      workspace={workspace}
      defaultValues={{
        clutch: clutchId,
        on: today,
        containerKind: kinds[0]?.value,
        zone: zoneId ?? undefined,
        planned: Math.max(1, together),
      }}
      // A page of its own, which the device keeps: it is loaded whole, not shown inside this one.
      onDone={({ id }) => window.location.assign(`/bench#${props.workspaceId}/${id}/${moults}`)}
      submitLabel="To the bench"
      submitKind="hand"
      className="mt-5"
    >
      <FormRadio name="containerKind" label="Into" choices={kinds} />
      <FormNumber
        name="planned"
        label="How many this time"
        isWhole
        hint="Labels are set aside for them. It can be more or fewer in the end."
      />
      <FormSelect name="zone" label="The cups stand in" choices={zones} placeholder="Choose the zone" />
      <Select
        label="Their stage"
        choices={stages}
        value={moults}
        onChange={(event) => setMoults(event.target.value)}
        hint="By the warmth since the hatch. Choose another one if you see it."
      />
    </RecordForm>
  )
}
