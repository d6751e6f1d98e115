'use client'

import { ROLE_CHOICES } from '@/components/person/role-choices'
import { DialogButton } from '@/components/ui/dialog'
import { FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createInvitationAction } from '@/lib/features/invitation/actions'
import { createInvitationSchema } from '@/lib/features/invitation/schema'

export function InvitePerson({ workspace }: { workspace: string }) {
  const done = useDone()
  return (
    <DialogButton label="Invite someone" kind="filled" title="Invite someone">
      {({ close }) => (
        <RecordForm
          name="invite"
          schema={createInvitationSchema}
          action={createInvitationAction}
          workspace={workspace}
          defaultValues={{ email: '', role: 'keeper' }}
          onDone={() => {
            close()
            done('Invited. The link stands below, and a mail is written.')
          }}
          submitLabel="Invite"
        >
          <FormText name="email" label="Mail address" type="email" />
          <FormRadio name="role" label="Works here as" choices={ROLE_CHOICES} />
        </RecordForm>
      )}
    </DialogButton>
  )
}
