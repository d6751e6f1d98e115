'use client'

import { CounterLines } from '@/components/counter/counter-lines'
import { CounterTotal } from '@/components/counter/counter-total'
import { PaymentFields } from '@/components/counter/payment-fields'
import type { StallDevice } from '@/components/stall/stall-device'
import type { KeptReceipt } from '@/components/stall/stall-store'
import { adviceOn, writeReceipt } from '@/components/stall/write-receipt'
import { FormCheckbox, FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import type { Action } from '@/components/ui/form/use-sending'
import { wallClock } from '@/lib/domain/calendar/instant'
import {
  type StallAnimal,
  type StallItem,
  type StallPart,
  stallSaleSchema,
} from '@/lib/features/stall/schema'
import { StallStockLines } from './stall-stock-lines'

type Props = {
  kept: StallPart
  device: StallDevice
  items: StallAnimal[]
  things: StallItem[]
  isOther: boolean
  onRemove: (id: string) => void
  onLeaveOut: (number: number) => void
  onSold: (receipt: KeptReceipt) => void
}

/** The counter's own form; what it sends goes to the disk of this device. */
export function StallSaleForm(props: Props) {
  const { kept, device, items, things, isOther, onRemove, onLeaveOut, onSold } = props
  const { workspace, terms } = kept
  const on = wallClock(Date.now(), workspace.timeZone).on
  const sell: Action<KeptReceipt> = async ({ operationId, input }) => {
    const typed = stallSaleSchema.safeParse(input)
    if (!typed.success)
      return { status: 'refused', code: 'invalid', message: 'Some entries need another look.' }
    const written = writeReceipt(typed.data, { part: kept, id: operationId, on, now: new Date() })
    if (written.status === 'unpaid') {
      const fields = [{ path: 'payments.0.amount', message: written.message }]
      return { status: 'refused', code: 'invalid', message: 'Some entries need another look.', fields }
    }
    const receipt = await device.sell(kept, written.make)
    if (receipt) return { status: 'done', value: receipt, warnings: [] }
    return {
      ...{ status: 'refused', code: 'already-gone' },
      message: 'One of these animals is on another receipt of this device. Take it off.',
    }
  }
  const count = items.length + things.length + Number(isOther)
  return (
    <RecordForm
      name="stall"
      schema={stallSaleSchema}
      action={sell}
      defaultValues={{
        ...{ lines: [], stock: [], payments: [{ kind: 'cash' }] },
      }}
      onDone={onSold}
      submitLabel={count === 1 ? 'Sell it' : `Sell these ${count}`}
      className="max-w-none"
    >
      <CounterLines
        items={items.map((animal) => itemOf(animal, on))}
        currency={workspace.currency}
        rates={terms.rates}
        onRemove={(label) => onRemove(items.find((item) => codeOf(item) === label)?.id ?? '')}
      />
      <StallStockLines {...{ kept, things, isOther }} onRemove={onLeaveOut} />
      <PaymentFields currency={workspace.currency} />
      {terms.certifiedTill ? (
        <FormText
          name="certifiedNumber"
          label="Number of the certified till’s receipt"
          isOptional
          hint="The law’s receipt is the one that till writes."
        />
      ) : null}
      <details>
        <summary className="target cursor-pointer py-3 text-small">In a name, or with a note</summary>
        <div className="space-y-3 pb-2">
          <FormText
            name="buyerName"
            label="Name on the receipt"
            isOptional
            autoComplete="off"
            hint="It is kept on this device only until the receipt has been sent."
          />
          <FormTextArea name="buyerAddress" label="Address" isOptional rows={2} />
          <FormCheckbox name="keepConsent" label="Agreed to be kept on record" />
          <FormTextArea name="note" label="Note on the receipt" isOptional rows={2} />
        </div>
      </details>
      <CounterTotal
        currency={workspace.currency}
        pricesIncludeTax={terms.pricesIncludeTax}
        rates={terms.rates}
      />
    </RecordForm>
  )
}

const codeOf = ({ label }: StallAnimal) => label.replaceAll(' ', '')

/** As the counter lists it. */
function itemOf(animal: StallAnimal, on: string) {
  const { id, description, priceMinor } = animal
  const { messages = [], may = true, whom = null, open } = adviceOn(animal, on) ?? {}
  const said = messages.map((message) => ({ code: message, message }))
  return {
    ...{ id, label: codeOf(animal), description, priceMinor, cleared: [] },
    leave: { may, blocks: said, warnings: [] },
    // What an older service has given this device names no one: a reason is asked for, and the service judges.
    keptBack: { whom, open: open ?? (may ? [] : ['unknown']) },
  }
}
