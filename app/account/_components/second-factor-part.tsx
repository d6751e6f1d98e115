'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { DialogButton } from '@/components/ui/dialog'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { endSecondFactorAction, renewRecoveryCodesAction } from '@/lib/features/person/actions'
import { provePasswordSchema } from '@/lib/features/person/schema'
import type { SecondFactor } from '@/lib/platform/second-factor'
import { RecoveryCodes } from './recovery-codes'
import { SetUpSecondFactor } from './set-up-second-factor'

/** Off, being set up, or on: with the codes shown once, right after they were made. */
export function SecondFactorPart({ secondFactor }: { secondFactor: SecondFactor }) {
  const [codes, setCodes] = useState<string[]>()
  const router = useRouter()
  if (codes)
    return (
      <RecoveryCodes
        codes={codes}
        onKept={() => {
          setCodes(undefined)
          router.refresh()
        }}
      />
    )
  if (!secondFactor.isOn) return <SetUpSecondFactor onCodes={setCodes} />
  return (
    <>
      <p className="max-w-xl">
        Signing in asks for your password and a code.{' '}
        {secondFactor.recoveryCodesLeft === 1
          ? 'One recovery code is left.'
          : `${secondFactor.recoveryCodesLeft} recovery codes are left.`}
      </p>
      <div className="-ms-4 mt-2 flex flex-wrap desk:ms-0 desk:gap-3">
        <Renew onCodes={setCodes} />
        <TakeOff />
      </div>
    </>
  )
}

const PASSWORD = (
  <FormText name="current" label="Your password" type="password" autoComplete="current-password" />
)

function Renew({ onCodes }: { onCodes: (codes: string[]) => void }) {
  return (
    <DialogButton label="New recovery codes" kind="quiet" title="New recovery codes">
      {() => (
        <RecordForm
          name="renew-recovery-codes"
          schema={provePasswordSchema}
          action={renewRecoveryCodesAction}
          onDone={({ codes }) => onCodes(codes)}
          submitLabel="Make new ones"
        >
          <p>The codes you have now stop working.</p>
          {PASSWORD}
        </RecordForm>
      )}
    </DialogButton>
  )
}

function TakeOff() {
  const done = useDone()
  return (
    <DialogButton label="Take it off" kind="quiet" title="Take the second factor off">
      {({ close }) => (
        <RecordForm
          name="end-second-factor"
          schema={provePasswordSchema}
          action={endSecondFactorAction}
          onDone={() => {
            close()
            done('Signing in asks for your password alone.')
          }}
          submitLabel="Take it off"
        >
          <p>
            Your password alone then opens everything. A workspace that asks for a second factor is closed to
            you.
          </p>
          {PASSWORD}
        </RecordForm>
      )}
    </DialogButton>
  )
}
