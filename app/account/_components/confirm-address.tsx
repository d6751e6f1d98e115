'use client'

import { useState } from 'react'
import { RecordForm } from '@/components/ui/form/record-form'
import { Notice } from '@/components/ui/notice'
import { askForConfirmationAction } from '@/lib/features/person/actions'
import { askForConfirmationSchema } from '@/lib/features/person/schema'

const UNTIL_THEN =
  'Until it is, you cannot invite anybody, and neither the day sheet nor alarms of a zone are mailed to you. Everything else works.'

/** `mail` is what would be sent where there is no mail server: the link in it works all the same. */
export function ConfirmAddress({ email, mail }: { email: string; mail: string | null }) {
  const [isSent, setSent] = useState(false)
  return (
    <section className="mt-6 max-w-2xl">
      <h2 className="mb-3">Mail address</h2>
      <Notice state="due" what={`${email} is not confirmed yet.`} why={UNTIL_THEN} />
      {mail ? <UnsentMail mail={mail} /> : null}
      {!mail && isSent ? (
        <div className="mt-3">
          <Notice
            state="fine"
            isAnnounced
            what="The mail is on its way."
            why="It can take a minute. Look among the unwanted mails too. The link in it works for a day."
          />
        </div>
      ) : null}
      {mail ? null : (
        <RecordForm
          name="ask-for-confirmation"
          schema={askForConfirmationSchema}
          action={askForConfirmationAction}
          onDone={() => setSent(true)}
          submitLabel="Send the mail again"
          submitKind="plain"
          className="mt-3"
        >
          <p>A mail with a link went to it when you opened the account.</p>
        </RecordForm>
      )}
    </section>
  )
}

function UnsentMail({ mail }: { mail: string }) {
  const link = mail.match(/https?:\/\/\S+/)?.[0] ?? ''
  return (
    <>
      <p className="mt-3">This service has no mail server, so the mail is shown here instead of sent:</p>
      <blockquote className="mt-2 whitespace-pre-line break-words border-line border-s-4 ps-3">
        {mail.replace(link, '').trim()}
      </blockquote>
      <p className="mt-2">
        <a href={link} className="target inline-flex items-center break-all underline">
          {link}
        </a>
      </p>
    </>
  )
}
