'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordQuarantineAction } from '@/lib/features/zone/actions'
import { recordQuarantineSchema } from '@/lib/features/zone/schema'

type Props = {
  workspace: string
  zone: { id: string; version: number; quarantineUntil: string | null; quarantineReason: string }
  isIn: boolean
}

export function SetQuarantine({ workspace, zone, isIn }: Props) {
  const done = useDone()
  const { id, version, quarantineUntil, quarantineReason } = zone
  return (
    <DialogButton
      label={isIn ? 'Change the quarantine' : 'Put into quarantine'}
      kind="quiet"
      title="Quarantine"
    >
      {({ close }) => (
        <RecordForm
          name={`quarantine-${id}`}
          schema={recordQuarantineSchema}
          action={recordQuarantineAction}
          workspace={workspace}
          defaultValues={{
            id,
            version,
            until: isIn ? (quarantineUntil ?? '') : '',
            reason: isIn ? quarantineReason : '',
          }}
          onDone={() => {
            close()
            done('Kept. Animals there say so.')
          }}
          submitLabel="Keep it"
        >
          <FormDate
            name="until"
            label="Until"
            isOptional
            hint="The first day on which what stands here may leave. Empty ends the quarantine."
          />
          <FormTextArea name="reason" label="Why" isOptional hint="New stock, mites, an unexplained death." />
          <p className="text-small text-soft">
            Rounds come here last. Use tools, jars and towels of its own, and wash your hands after it.
          </p>
        </RecordForm>
      )}
    </DialogButton>
  )
}
