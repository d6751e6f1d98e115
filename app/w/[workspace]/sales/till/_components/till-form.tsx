'use client'

import { FormCheckbox, FormNumber, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { OVERRIDABLE, OVERRIDE_WORDS } from '@/lib/domain/role/overrides'
import { updateTillAction } from '@/lib/features/till/actions'
import type { TillPage } from '@/lib/features/till/loaders'
import { tillSchema } from '@/lib/features/till/schema'
import { FormTicks } from './form-ticks'

const OVERRIDES = OVERRIDABLE.map((value) => ({ value, label: OVERRIDE_WORDS[value] }))

export function TillForm({
  workspace,
  till,
}: {
  workspace: string
  till: Omit<TillPage['terms'], 'rates' | 'prices'>
}) {
  const done = useDone()
  return (
    <RecordForm
      name="till"
      schema={tillSchema}
      action={updateTillAction}
      workspace={workspace}
      defaultValues={till}
      nextValues={({ version }, typed) => ({ ...typed, version })}
      onDone={() => done('It holds from the next receipt on.')}
      submitLabel="Save it"
    >
      <FormCheckbox name="pricesIncludeTax" label="Prices include tax" />
      <FormCheckbox
        name="certifiedTill"
        label="A certified till writes the receipt of the law"
        hint="This service records payments and is no certified till. Where the law wants one, each receipt here takes over its number."
      />
      <FormNumber
        name="retentionYears"
        label="Receipts that name a buyer are kept for"
        unit="years"
        isWhole
        hint="What your law asks, 0 where nothing. Until then a person who wants to be forgotten waits, and is told until when."
      />
      <FormTextArea
        name="receiptWords"
        label="At the foot of every receipt"
        isOptional
        rows={3}
        hint="Claim terms, tax number, opening hours."
      />
      <FormTicks
        name="counterOverrides"
        label="At the counter an animal may leave all the same if it is"
        choices={OVERRIDES}
      />
      <FormTicks name="keeperOverrides" label="A keeper may let it leave if it is" choices={OVERRIDES} />
      <p className="text-small text-soft">
        Whoever does says why, beside the sale. What is not ticked is kept back, and an owner may always let
        it leave. A moult on the way often kills, and a quarantine protects other people’s animals.
      </p>
    </RecordForm>
  )
}
