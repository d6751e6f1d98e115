'use client'

import { FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateIncidentNoteAction } from '@/lib/features/incident/actions'
import { noteIncidentSchema } from '@/lib/features/incident/schema'

type Props = { workspace: string; incident: { id: string; version: number; note: string } }

export function IncidentNote({ workspace, incident: { id, version, note } }: Props) {
  const done = useDone()
  return (
    <RecordForm
      key={version}
      name={`incident-${id}`}
      schema={noteIncidentSchema}
      action={updateIncidentNoteAction}
      workspace={workspace}
      defaultValues={{ id, version, note }}
      onDone={() => done('Written down.')}
      submitLabel="Write it down"
      submitKind="plain"
    >
      <FormTextArea name="note" label="What it was, and what was done" isOptional rows={4} />
    </RecordForm>
  )
}
