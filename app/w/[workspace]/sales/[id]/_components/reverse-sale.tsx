'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { formatCode } from '@/lib/domain/label/code'
import type { ReceiptPage } from '@/lib/features/sale/loaders'
import { createSaleReturnAction, reverseSaleAction } from '@/lib/features/sale-return/actions'
import { reversalFormSchema, saleReturnFormSchema } from '@/lib/features/sale-return/schema'

const REFUND_CHOICES = [
  { value: 'cash', label: 'in cash' },
  { value: 'card', label: 'to the card' },
  { value: 'transfer', label: 'by transfer' },
  { value: 'voucher', label: 'as a voucher' },
  { value: 'other', label: 'otherwise' },
]

type Props = { workspace: string; page: ReceiptPage }

export function ReverseSale({ workspace, page }: Props) {
  const done = useDone()
  const { sale } = page
  const animals = sale.lines.filter(({ kind }) => kind === 'animal').length
  return (
    <DialogButton label="Take it back" kind="quiet" title="Take this sale back">
      {({ close }) => (
        <RecordForm
          name="reversal"
          schema={reversalFormSchema}
          action={reverseSaleAction}
          workspace={workspace}
          defaultValues={{ sale: sale.id, ...placeOf(page, animals) }}
          onDone={() => {
            close()
            done(
              animals > 1
                ? 'The animals are here again.'
                : animals === 1
                  ? 'The animal is here again.'
                  : 'Taken back.',
            )
          }}
          submitLabel="Take it back"
        >
          <p className="text-small text-soft">
            The receipt keeps its number and is marked. {sayWhatReturns(animals)}
          </p>
          <BackFields page={page} animals={animals} />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function sayWhatReturns(animals: number): string {
  if (animals === 0) return 'What can go back into the stock does.'
  return animals > 1
    ? 'Every animal on it is here again, in a container.'
    : 'The animal is here again, in a container.'
}

/** Some of it: so many of each line. */
export function ReturnLines({ workspace, page }: Props) {
  const done = useDone()
  const { sale } = page
  const open = sale.lines.filter(({ quantity, returned }) => returned < quantity)
  const animals = open.filter(({ kind }) => kind === 'animal').length
  return (
    <DialogButton label="Some of it came back" kind="quiet" title="Some of it came back">
      {({ close }) => (
        <RecordForm
          name="return"
          schema={saleReturnFormSchema}
          action={createSaleReturnAction}
          workspace={workspace}
          defaultValues={{
            sale: sale.id,
            lines: open.map(({ number }) => ({ number, quantity: 0 })),
            ...placeOf(page, animals),
          }}
          onDone={({ returnNumber }) => {
            close()
            done(`Return ${returnNumber} is written.`)
          }}
          submitLabel="Take them back"
        >
          {open.map(({ number, label, description, quantity, returned }, index) => (
            <FormNumber
              key={number}
              name={`lines.${index}.quantity`}
              label={label ? formatCode(label) : description}
              hint={`of ${quantity - returned}`}
              isWhole
            />
          ))}
          <BackFields page={page} animals={animals} />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function placeOf({ today, kinds, zones }: ReceiptPage, animals: number) {
  if (animals === 0) return { on: today, refundKind: '' }
  return { on: today, refundKind: '', containerKind: kinds[0]?.value, zone: zones[0]?.value }
}

function BackFields({ page, animals }: { page: ReceiptPage; animals: number }) {
  return (
    <>
      <FormText name="reason" label="Why" />
      <FormDate name="on" label="On" />
      <FormSelect
        name="refundKind"
        label="The money went back"
        isOptional
        placeholder="not said"
        choices={REFUND_CHOICES}
      />
      {animals > 0 ? (
        <>
          <FormSelect name="containerKind" label="Container" choices={page.kinds} />
          <FormSelect name="zone" label="Zone" choices={page.zones} />
        </>
      ) : null}
    </>
  )
}
