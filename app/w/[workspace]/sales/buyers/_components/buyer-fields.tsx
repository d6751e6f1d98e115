'use client'

import { FormCheckbox, FormSelect, FormText, FormTextArea } from '@/components/ui/form/form-field'
import { LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'

const EXPERIENCE_CHOICES = [
  { value: 'unknown', label: 'not known' },
  { value: 'beginner', label: 'a beginner' },
  { value: 'experienced', label: 'experienced' },
]

const LANGUAGE_CHOICES = LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value] }))

export type Countries = readonly { value: string; label: string }[]

/** What is asked of a buyer: no more than a sale, a parcel or a claim needs. */
export function BuyerFields({ countries }: { countries: Countries }) {
  return (
    <>
      <FormText name="name" label="Name" />
      <FormSelect
        name="experience"
        label="Keeps mantises"
        choices={EXPERIENCE_CHOICES}
        hint="Beginners are not sold the youngest without a word."
      />
      <FormText name="email" label="Mail address" type="email" isOptional />
      <FormText name="phone" label="Phone" type="tel" isOptional />
      <FormTextArea name="address" label="Postal address" isOptional rows={3} />
      <FormSelect
        name="country"
        label="Country"
        isOptional
        choices={countries}
        hint="Some species need papers there."
      />
      <FormSelect
        name="language"
        label="Language of receipts and papers"
        isOptional
        placeholder="as yours"
        choices={LANGUAGE_CHOICES}
      />
      <FormTextArea name="note" label="Note" isOptional rows={2} />
      <FormCheckbox
        name="keepConsent"
        label="Agreed to be kept on record"
        hint="Asked, not assumed. Without it only what a receipt needs should stand here."
      />
      <FormCheckbox name="newsConsent" label="Agreed to be told what is for sale" />
    </>
  )
}
