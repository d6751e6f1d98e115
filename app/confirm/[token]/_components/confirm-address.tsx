'use client'

import { RecordForm } from '@/components/ui/form/record-form'
import { confirmAddressAction } from '@/lib/features/person/actions'
import { confirmAddressSchema } from '@/lib/features/person/schema'

/** Opening the link confirms nothing: mail programs open links too. */
export function ConfirmAddress({ token }: { token: string }) {
  return (
    <RecordForm
      name="confirm-address"
      schema={confirmAddressSchema}
      action={confirmAddressAction}
      defaultValues={{ token }}
      onDone={() => window.location.assign('/account')}
      submitLabel="Yes, it is mine"
      className="max-w-md"
    >
      <p>You can then invite others, and are mailed what you ask for.</p>
    </RecordForm>
  )
}
