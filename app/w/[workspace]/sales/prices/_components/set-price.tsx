'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateAnimalPriceAction, updateStockPriceAction } from '@/lib/features/price-list/actions'
import type { PricesPage } from '@/lib/features/price-list/loaders'
import { animalPriceSchema, stockPriceSchema } from '@/lib/features/price-list/schema'

type Props = { workspace: string; page: PricesPage; list: string }

const SEXES = [
  { value: 'female', label: 'female' },
  { value: 'male', label: 'male' },
  { value: 'unsexed', label: 'unsexed' },
]

export function SetAnimalPrice({ workspace, page, list }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Price of an animal" kind="filled" title="Price of an animal">
      {({ close }) => (
        <RecordForm
          name="animal-price"
          schema={animalPriceSchema}
          action={updateAnimalPriceAction}
          workspace={workspace}
          defaultValues={{ list, species: page.species[0]?.value ?? '', stage: '', sex: '' }}
          onDone={() => {
            close()
            done('The price is set.')
          }}
          submitLabel="Set it"
        >
          <FormSelect name="species" label="Species" choices={page.species} />
          <FormSelect name="stage" label="Instar" isOptional placeholder="any" choices={page.stages} />
          <FormSelect name="sex" label="Sex" isOptional placeholder="any" choices={SEXES} />
          <FormNumber
            name="price"
            label="Price"
            unit={page.currency}
            isOptional
            hint="Left empty it is not for sale on this list. What says most about an animal wins."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}

export function SetStockPrice({ workspace, page, list }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Price of something else" title="Price of something else">
      {({ close }) => (
        <RecordForm
          name="stock-price"
          schema={stockPriceSchema}
          action={updateStockPriceAction}
          workspace={workspace}
          defaultValues={{ list, what: page.stock[0]?.value ?? '' }}
          onDone={() => {
            close()
            done('The price is set.')
          }}
          submitLabel="Set it"
        >
          <FormSelect name="what" label="What" choices={page.stock} />
          <FormNumber name="price" label="Price of one" unit={page.currency} isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
