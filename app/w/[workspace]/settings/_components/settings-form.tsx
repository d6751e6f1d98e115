'use client'

import { FormRadio, FormSelect, FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateWorkspaceAction } from '@/lib/features/workspace/actions'
import type { Settings } from '@/lib/features/workspace/loaders'
import { LANGUAGES, updateWorkspaceSchema } from '@/lib/features/workspace/schema'

type Choices = { value: string; label: string }[]
type Props = { workspace: string; settings: Settings; countries: Choices; timeZones: Choices }

const CONVENTIONS = [
  {
    value: 'hatchling_is_first',
    label: 'A hatchling is 1st',
    hint: 'Out of its hatching skin, first instar.',
  },
  {
    value: 'hatchling_is_second',
    label: 'A hatchling is 2nd',
    hint: 'The form inside the hatching skin counted too.',
  },
]
const STYLES = [
  { value: 'ordinal', label: '3rd' },
  { value: 'l_number', label: 'L3' },
]
const TEMPERATURES = [
  { value: 'celsius', label: '°C' },
  { value: 'fahrenheit', label: '°F' },
]
const LENGTHS = [
  { value: 'millimetre', label: 'mm' },
  { value: 'inch', label: 'in' },
]

export function SettingsForm({ workspace, settings, countries, timeZones }: Props) {
  const done = useDone()
  const { slug: _slug, currency: _currency, ...values } = settings
  return (
    <RecordForm
      name="settings"
      schema={updateWorkspaceSchema}
      action={updateWorkspaceAction}
      workspace={workspace}
      defaultValues={values}
      nextValues={({ version }, typed) => ({ ...typed, version })}
      onDone={() => done('Kept.')}
      submitLabel="Keep these"
    >
      <FormText name="name" label="Name" hint="As it stands on labels and care sheets." />
      <FormTextArea
        name="contact"
        label="Contact"
        isOptional
        hint="On every care sheet and its public page: whom a buyer asks, and how."
      />
      <FormTextArea name="claimTerms" label="Terms for claims" isOptional hint="On every care sheet." />
      <FormText
        name="foodText"
        label="Live food you sell"
        isOptional
        hint="In your own words, beside the food on care sheets. What your live food records say was sold is named by itself."
      />
      <FormSelect name="country" label="Country" choices={countries} />
      <FormSelect name="timeZone" label="Time zone" choices={timeZones} hint="Decides when a day begins." />
      <FormSelect name="language" label="Language of care sheets" choices={LANGUAGES} />
      <FormRadio name="instarConvention" label="Counting instars" choices={CONVENTIONS} />
      <FormRadio name="instarStyle" label="Writing instars" choices={STYLES} look="tiles" />
      <FormRadio name="temperatureUnit" label="Temperature on sheets" choices={TEMPERATURES} look="tiles" />
      <FormRadio name="lengthUnit" label="Length on sheets" choices={LENGTHS} look="tiles" />
    </RecordForm>
  )
}
