'use client'

import { useState } from 'react'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { confirmSecondFactorAction, startSecondFactorAction } from '@/lib/features/person/actions'
import { confirmSecondFactorSchema, startSecondFactorSchema } from '@/lib/features/person/schema'

type Started = { secret: string; picture: string }

/** First the secret for the app, then a code from it: only that turns it on. */
export function SetUpSecondFactor({ onCodes }: { onCodes: (codes: string[]) => void }) {
  const [started, setStarted] = useState<Started>()
  if (!started)
    return (
      <RecordForm
        name="start-second-factor"
        schema={startSecondFactorSchema}
        action={startSecondFactorAction}
        onDone={setStarted}
        submitLabel="Set it up"
        submitKind="plain"
      >
        <p>
          Besides your password, signing in then asks for a code that an authenticator app on your phone shows
          anew every half minute. Somebody who has only your password stays out.
        </p>
      </RecordForm>
    )
  return (
    <RecordForm
      name="confirm-second-factor"
      schema={confirmSecondFactorSchema}
      action={confirmSecondFactorAction}
      onDone={({ codes }) => onCodes(codes)}
      submitLabel="Turn it on"
    >
      <p>Scan this with an authenticator app, or type the letters into it.</p>
      {/* biome-ignore lint/performance/noImgElement: a drawing of a few lines, made for this moment alone */}
      <img
        src={`data:image/svg+xml,${encodeURIComponent(started.picture)}`}
        alt="The secret for an authenticator app, as a QR code"
        className="size-52"
      />
      <p className="break-all font-mono">{started.secret.match(/.{1,4}/g)?.join(' ')}</p>
      <FormText
        name="code"
        label="The code it shows now"
        autoComplete="one-time-code"
        inputMode="numeric"
        hint="Six figures."
      />
    </RecordForm>
  )
}
