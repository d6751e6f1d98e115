'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { ListedValue } from '@/lib/domain/care-profile/value-list'
import { changeProfileValueAction } from '@/lib/features/species/actions'
import { changeProfileValueSchema } from '@/lib/features/species/schema'
import { sayValue } from './say-value'

export type EditPlace = { workspace: string; speciesId: string; version: number }

const UNIT_WORDS: Record<string, string> = { share: 'of 1', '×': 'times' }

export function ChangeValue({ edit, value }: { edit: EditPlace; value: ListedValue }) {
  const done = useDone()
  const { workspace, speciesId, version } = edit
  const { path, label, unit, source } = value
  return (
    <DialogButton
      kind="quiet"
      title={label}
      label={
        <>
          Change<span className="sr-only"> {label}</span>
        </>
      }
    >
      {({ close }) => (
        <RecordForm
          name={`value-${path}`}
          schema={changeProfileValueSchema}
          action={changeProfileValueAction}
          workspace={workspace}
          defaultValues={{
            speciesId,
            version,
            path,
            value: value.value ?? undefined,
            note: source.kind === 'own' ? source.note : '',
          }}
          onDone={() => {
            close()
            done('Changed. Forecasts follow it from now on.')
          }}
          submitLabel="Make it ours"
        >
          <FormNumber
            name="value"
            label="Value"
            unit={UNIT_WORDS[unit] ?? unit}
            hint={`Now ${sayValue(value)}.`}
          />
          <FormTextArea
            name="note"
            label="Why"
            isOptional
            hint="Whoever reads it later will be glad of it."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
