'use client'

import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { showToast } from '@/components/ui/toast'
import { changePasswordAction } from '@/lib/features/person/actions'
import { changePasswordSchema, PASSWORD_LETTERS } from '@/lib/features/person/schema'

const EMPTY = { current: '', password: '' }

export function ChangePassword() {
  return (
    <RecordForm
      name="change-password"
      schema={changePasswordSchema}
      action={changePasswordAction}
      defaultValues={EMPTY}
      nextValues={() => EMPTY}
      onDone={() =>
        showToast({ what: 'Your password is changed.', why: 'Every other device has been signed out.' })
      }
      submitLabel="Change the password"
      className="max-w-md"
    >
      <FormText
        name="current"
        label="The password you have now"
        type="password"
        autoComplete="current-password"
      />
      <FormText
        name="password"
        label="New password"
        type="password"
        autoComplete="new-password"
        hint={`At least ${PASSWORD_LETTERS} letters, figures or signs. Every other device is signed out with it.`}
      />
    </RecordForm>
  )
}
