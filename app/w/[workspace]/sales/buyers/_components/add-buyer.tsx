'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { RecordForm } from '@/components/ui/form/record-form'
import { createBuyerAction } from '@/lib/features/buyer/actions'
import { buyerSchema } from '@/lib/features/buyer/schema'
import { BuyerFields, type Countries } from './buyer-fields'

export function AddBuyer({ workspace, countries }: { workspace: string; countries: Countries }) {
  const router = useRouter()
  return (
    <DialogButton label="Add a buyer" kind="filled" title="Add a buyer">
      <RecordForm
        name="add-buyer"
        schema={buyerSchema}
        action={createBuyerAction}
        workspace={workspace}
        defaultValues={{
          experience: 'unknown',
          country: '',
          language: '',
          keepConsent: false,
          newsConsent: false,
        }}
        onDone={({ id }) => router.push(`/w/${workspace}/sales/buyers/${id}`)}
        submitLabel="Add them"
      >
        <BuyerFields countries={countries} />
      </RecordForm>
    </DialogButton>
  )
}
