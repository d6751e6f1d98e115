'use client'

import { FormSelect, FormTextArea } from '@/components/ui/form/form-field'
import { LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'

const LANGUAGE_CHOICES = LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value] }))
const PAPER_CHOICES = [
  { value: 'a4', label: 'A4' },
  { value: 'a5', label: 'A5' },
  { value: 'letter', label: 'Letter' },
]

/** How a sheet is printed, and what the buyer of this one should know besides. */
export function SheetFields() {
  return (
    <>
      <FormSelect
        name="language"
        label="Language"
        isOptional
        placeholder="As the workspace prints"
        choices={LANGUAGE_CHOICES}
      />
      <FormSelect
        name="paper"
        label="Paper"
        isOptional
        placeholder="As the workspace prints"
        choices={PAPER_CHOICES}
        hint="This device remembers it."
      />
      <FormTextArea
        name="note"
        label="A word to whoever takes it"
        isOptional
        hint="Printed on the sheet and shown on the page behind its code."
      />
    </>
  )
}
