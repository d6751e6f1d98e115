'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormRadio } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { GROWTH_SIGN_WORDS, GROWTH_SIGNS } from '@/lib/domain/individual/growth-sign'
import { recordSignsAction } from '@/lib/features/look/actions'
import { newSignFormSchema } from '@/lib/features/look/schema'

const SIGNS = GROWTH_SIGNS.map((value) => ({ value, label: GROWTH_SIGN_WORDS[value] }))

type Props = { workspace: string; individuals: string[]; today: string }

/** What was seen of how far it is, without touching it: it moves the windows at once. */
export function RecordSign({ workspace, individuals, today }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Signs" title="Signs of a moult to come">
      {({ close }) => (
        <RecordForm
          name="sign"
          schema={newSignFormSchema}
          action={recordSignsAction}
          workspace={workspace}
          defaultValues={{ individuals, on: today }}
          onDone={() => {
            close()
            done('The sign is recorded.')
          }}
          submitLabel="Record it"
        >
          <FormRadio
            name="sign"
            label="What you saw"
            choices={SIGNS}
            look="tiles"
            hint="Swollen wing buds: the next moult is the final one. Food refused, though not soft from the last moult: the next is near."
          />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
