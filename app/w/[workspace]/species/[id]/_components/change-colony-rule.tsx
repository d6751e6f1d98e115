'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormCheckbox, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { Notice } from '@/components/ui/notice'
import type { ListedValue } from '@/lib/domain/care-profile/value-list'
import { changeColonyRuleAction } from '@/lib/features/species/actions'
import { colonyRuleSchema } from '@/lib/features/species/schema'
import type { EditPlace } from './change-value'

/** Whether they may live together is not a figure: it is said with what it rests on, and with what it can cost. */
export function ChangeColonyRule({ edit, value }: { edit: EditPlace; value: ListedValue }) {
  const done = useDone()
  const { workspace, speciesId, version } = edit
  const { source, label } = value
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
          name="colony-rule"
          schema={colonyRuleSchema}
          action={changeColonyRuleAction}
          workspace={workspace}
          defaultValues={{
            speciesId,
            version,
            allows: value.value === true,
            note: source.kind === 'own' ? source.note : '',
          }}
          onDone={() => {
            close()
            done('Changed.')
          }}
          submitLabel="Make it ours"
        >
          <Notice
            state="due"
            what="Most mantises eat each other sooner or later."
            why="Say yes only for a species you have kept together for whole generations: well fed, with room, nobody more than one instar from another. Care sheets for buyers go on saying one animal to a container."
          />
          <FormCheckbox name="allows" label="They may live together here" />
          <FormTextArea name="note" label="What it rests on" hint="How many, how long, what was lost." />
        </RecordForm>
      )}
    </DialogButton>
  )
}
