'use client'

import { ROLE_CHOICES } from '@/components/person/role-choices'
import { DialogButton } from '@/components/ui/dialog'
import { FormRadio } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { changeRoleAction } from '@/lib/features/membership/actions'
import { type ChangeRole as Change, changeRoleSchema } from '@/lib/features/membership/schema'

type Props = { workspace: string; name: string; membership: Change }

export function ChangeRole({ workspace, name, membership }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Change role" kind="quiet" title={`The role of ${name}`}>
      {({ close }) => (
        <RecordForm
          name={`role-${membership.personId}`}
          schema={changeRoleSchema}
          action={changeRoleAction}
          workspace={workspace}
          defaultValues={membership}
          onDone={() => {
            close()
            done('The role holds from their next step on.')
          }}
          submitLabel="Give this role"
        >
          <FormRadio name="role" label="Role" choices={ROLE_CHOICES} />
        </RecordForm>
      )}
    </DialogButton>
  )
}
