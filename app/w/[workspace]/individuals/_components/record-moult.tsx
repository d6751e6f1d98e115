'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormCheckbox, FormDate, FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { MOULT_OUTCOMES } from '@/lib/domain/individual/record'
import { recordMoultsAction } from '@/lib/features/moult/actions'
import { MOULT_OUTCOME_WORDS, newMoultFormSchema } from '@/lib/features/moult/schema'

type Props = {
  workspace: string
  individuals: string[]
  today: string
  kind?: 'filled' | 'hand' | 'plain'
  onDone?: () => void
}

const OUTCOMES = MOULT_OUTCOMES.map((value) => ({ value, label: MOULT_OUTCOME_WORDS[value] }))

/** A skin was found: of one animal, or of all that were chosen. */
export function RecordMoult({ workspace, individuals, today, kind, onDone }: Props) {
  const done = useDone()
  const many = individuals.length > 1
  return (
    <DialogButton
      label={many ? 'Moulted' : 'Record a moult'}
      kind={kind}
      title={many ? `${individuals.length} animals moulted` : 'Record a moult'}
    >
      {({ close }) => (
        <RecordForm
          name="moult"
          schema={newMoultFormSchema}
          action={recordMoultsAction}
          workspace={workspace}
          defaultValues={{ individuals, on: today, outcome: 'good', final: false }}
          onDone={() => {
            close()
            onDone?.()
            done(
              many
                ? `${individuals.length} moults are recorded.`
                : 'The moult is recorded. Leave it alone for now.',
            )
          }}
          submitLabel="Record it"
        >
          <FormDate name="on" label="Noticed on" />
          <FormDate
            name="seenFrom"
            label="Not yet moulted on"
            isOptional
            hint="The day you last saw it before, where you did not look every day."
          />
          <FormRadio name="outcome" label="How it went" choices={OUTCOMES} look="tiles" />
          <FormCheckbox
            name="final"
            label="It is adult now"
            hint="Full wings, or the adult form of a species without them."
          />
          <FormText name="note" label="Note" isOptional hint="Of an injury, in words a buyer may read." />
        </RecordForm>
      )}
    </DialogButton>
  )
}
