'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { Figure } from '@/lib/domain/prey/figure'
import { updatePreyFigureAction } from '@/lib/features/prey/actions'
import { changeFigureSchema } from '@/lib/features/prey/schema'

type Props = { workspace: string; line: string; version: number; figure: Figure; now: string }

const UNIT_WORDS: Record<string, string> = { share: 'of 1', '×': 'times', minor: 'hundredths', weekdays: '' }

export function ChangeFigure({ workspace, line, version, figure, now }: Props) {
  const done = useDone()
  const { path, label, unit, value, source } = figure
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
          name={`figure-${line}-${path}`}
          schema={changeFigureSchema}
          action={updatePreyFigureAction}
          workspace={workspace}
          defaultValues={{
            line,
            version,
            path,
            value: typeof value === 'number' ? value : undefined,
            note: source.kind === 'own' ? source.note : '',
          }}
          onDone={() => {
            close()
            done('Changed. Plans follow it from now on.')
          }}
          submitLabel="Make it ours"
        >
          <FormNumber name="value" label="Value" unit={UNIT_WORDS[unit] ?? unit} hint={`Now ${now}.`} />
          <FormTextArea
            name="note"
            label="Why"
            isOptional
            hint="Weighed, counted, or what the supplier says."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
