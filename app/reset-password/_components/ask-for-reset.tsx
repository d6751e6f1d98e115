'use client'

import Link from 'next/link'
import { useState } from 'react'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { Notice } from '@/components/ui/notice'
import { askForResetAction } from '@/lib/features/person/actions'
import { askForResetSchema } from '@/lib/features/person/schema'

/** Answers alike whether the address has an account or not. */
export function AskForReset() {
  const [isAsked, setAsked] = useState(false)
  if (isAsked)
    return (
      <Notice
        state="fine"
        isAnnounced
        what="If this address has an account, a mail is on its way."
        why="It can take a minute. Look among the unwanted mails too. The link works for ten minutes."
        next={
          <Link href="/sign-in" className="target inline-flex items-center underline">
            Back to signing in
          </Link>
        }
      />
    )
  return (
    <RecordForm
      name="ask-for-reset"
      schema={askForResetSchema}
      action={askForResetAction}
      onDone={() => setAsked(true)}
      submitLabel="Send me a link"
      className="max-w-md"
      aside={
        <Link href="/sign-in" className="target inline-flex items-center px-2 underline">
          Back to signing in
        </Link>
      }
    >
      <FormText name="email" label="Mail address" type="email" autoComplete="username" />
    </RecordForm>
  )
}
