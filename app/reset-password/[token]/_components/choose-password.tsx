'use client'

import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { resetPasswordAction } from '@/lib/features/person/actions'
import { PASSWORD_LETTERS, resetPasswordSchema } from '@/lib/features/person/schema'

/** The address stands in the form for the password keeper of the browser, which files the new one under it. */
export function ChoosePassword({ token, email }: { token: string; email: string }) {
  return (
    <>
      <input type="email" autoComplete="username" value={email} readOnly hidden />
      <RecordForm
        name="reset-password"
        schema={resetPasswordSchema}
        action={resetPasswordAction}
        defaultValues={{ token }}
        onDone={() => window.location.assign('/sign-in?from=reset')}
        submitLabel="Set the password"
        className="max-w-md"
      >
        <FormText
          name="password"
          label="New password"
          type="password"
          autoComplete="new-password"
          hint={`At least ${PASSWORD_LETTERS} letters, figures or signs. A few words are easier to keep than a short riddle.`}
        />
      </RecordForm>
    </>
  )
}
