'use client'

import { useEffect } from 'react'
import { useFormContext, useWatch } from 'react-hook-form'
import { FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { currencyOfCountry } from '@/lib/domain/place/country'
import { createWorkspaceAction } from '@/lib/features/workspace/actions'
import { createWorkspaceSchema, LANGUAGES, suggestSlug } from '@/lib/features/workspace/schema'

type Choices = { value: string; label: string }[]
type Props = { countries: Choices; timeZones: Choices; currencies: Choices }

const EMPTY = { name: '', slug: '', country: '', timeZone: '', currency: '', language: 'en' }

export function NewWorkspaceForm({ countries, timeZones, currencies }: Props) {
  return (
    <RecordForm
      name="new-workspace"
      schema={createWorkspaceSchema}
      action={createWorkspaceAction}
      defaultValues={EMPTY}
      onDone={({ slug }) => window.location.assign(`/w/${slug}/zones`)}
      submitLabel="Make the workspace"
      className="pt-4"
    >
      <Suggestions />
      <FormText name="name" label="Name" hint="As it stands on labels and care sheets." />
      <FormText
        name="slug"
        label="Address"
        hint="The last part of its pages’ address. It can be changed later."
      />
      <FormSelect name="country" label="Country" choices={countries} placeholder="Choose" />
      <FormSelect
        name="timeZone"
        label="Time zone"
        choices={timeZones}
        placeholder="Choose"
        hint="Decides when a day begins."
      />
      <FormSelect
        name="currency"
        label="Currency"
        choices={currencies}
        placeholder="Choose"
        hint="Of every price. It cannot be changed later."
      />
      <FormSelect name="language" label="Language of care sheets" choices={LANGUAGES} />
    </RecordForm>
  )
}

/** Fills in what follows from what is there, as long as nobody has touched the field. */
function Suggestions() {
  const { setValue, getFieldState, getValues } = useFormContext()
  const [name, country] = useWatch({ name: ['name', 'country'] })
  useEffect(() => {
    if (!getFieldState('slug').isDirty) setValue('slug', suggestSlug(String(name ?? '')))
  }, [name, setValue, getFieldState])
  useEffect(() => {
    const currency = currencyOfCountry(String(country ?? ''))
    if (currency && !getFieldState('currency').isDirty) setValue('currency', currency)
  }, [country, setValue, getFieldState])
  useEffect(() => {
    const { timeZone } = Intl.DateTimeFormat().resolvedOptions()
    if (!getValues('timeZone')) setValue('timeZone', timeZone)
    const region = new Intl.Locale(navigator.language).region
    if (region && !getValues('country')) setValue('country', region)
  }, [setValue, getValues])
  return null
}
