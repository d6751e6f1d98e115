'use client'

import { DialogButton } from '@/components/ui/dialog'
import {
  FormCheckbox,
  FormDate,
  FormNumber,
  FormRadio,
  FormSelect,
  FormText,
} from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { Choice } from '@/components/ui/select'
import { MOULTED_SHARES, MOULTED_WORDS } from '@/lib/domain/separation/sighting'
import { recordClutchObservationAction } from '@/lib/features/clutch-observation/actions'
import { newObservationFormSchema } from '@/lib/features/clutch-observation/schema'
import type { ClutchHead } from './clutch-actions'

const SHARES = MOULTED_SHARES.map((value) => ({ value, label: MOULTED_WORDS[value] }))

type Props = { workspace: string; today: string; clutch: ClutchHead; stages: readonly Choice[] }

/** What somebody sees who lifts the lid: nobody counts, so the answer is a word. */
export function RecordObservation({ workspace, today, clutch, stages }: Props) {
  const done = useDone()
  return (
    <DialogButton label="What I see" title={`What you see of ${clutch.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`observation-${clutch.id}`}
          schema={newObservationFormSchema}
          action={recordClutchObservationAction}
          workspace={workspace}
          defaultValues={{
            clutch: clutch.id,
            on: today,
            number: '',
            sizeGap: false,
            hunger: false,
            wingBuds: false,
            refusesFood: false,
            note: '',
          }}
          onDone={() => {
            close()
            done('Recorded. The deadline follows what you saw.')
          }}
          submitLabel="Record it"
        >
          <FormRadio name="moulted" label="Have moulted" choices={SHARES} look="tiles" />
          <FormSelect
            name="number"
            label="Into"
            choices={[{ value: '', label: 'The stage whose time it is' }, ...stages]}
          />
          <div>
            <FormCheckbox name="sizeGap" label="Two sizes side by side" />
            <FormCheckbox name="hunger" label="Hungry: they search, or stalk each other" />
            <FormCheckbox name="refusesFood" label="Refuse food: a moult is near" />
            <FormCheckbox name="wingBuds" label="Wing buds: the next moult is the last" />
          </div>
          <FormNumber
            name="hanging"
            label="Hang for that moult"
            isWhole
            isOptional
            hint="Hang from the lid. They stay as they are until their skin is hard."
          />
          <FormNumber
            name="dead"
            label="Found dead"
            isWhole
            isOptional
            hint={`${clutch.together} are together.`}
          />
          <FormDate name="on" label="On" />
          <FormText name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
