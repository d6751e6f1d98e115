'use client'

import { DialogButton } from '@/components/ui/dialog'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateBuyerAction } from '@/lib/features/buyer/actions'
import type { BuyerPage } from '@/lib/features/buyer/loaders'
import { updateBuyerSchema } from '@/lib/features/buyer/schema'
import { BuyerFields, type Countries } from '../../_components/buyer-fields'

type Props = { workspace: string; buyer: BuyerPage['buyer']; countries: Countries }

export function EditBuyer({ workspace, buyer, countries }: Props) {
  const done = useDone()
  const { id, version, name, email, phone, address, country, language, experience, note } = buyer
  return (
    <DialogButton label="Change" title="Change this buyer">
      {({ close }) => (
        <RecordForm
          name={`buyer-${id}`}
          schema={updateBuyerSchema}
          action={updateBuyerAction}
          workspace={workspace}
          defaultValues={{
            ...{ id, version, name, email, phone, address, country, language, experience, note },
            keepConsent: buyer.keepConsentOn !== null,
            newsConsent: buyer.newsConsentOn !== null,
          }}
          onDone={() => {
            close()
            done('Changed.')
          }}
          submitLabel="Save it"
        >
          <BuyerFields countries={countries} />
        </RecordForm>
      )}
    </DialogButton>
  )
}
