'use client'

import { useRouter } from 'next/navigation'
import { type ReactNode, useState } from 'react'
import { useFormContext, useWatch } from 'react-hook-form'
import { PAYMENT_WORDS } from '@/components/counter/payment-fields'
import { StockItemFields } from '@/components/stock/stock-item-fields'
import { Button } from '@/components/ui/button'
import {
  FormCheckbox,
  FormDate,
  FormNumber,
  FormRadio,
  FormSelect,
  FormText,
  FormTextArea,
} from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { showToast } from '@/components/ui/toast'
import { createOrderAction } from '@/lib/features/order/actions'
import type { NewOrderPage } from '@/lib/features/order/loaders'
import { orderFormSchema } from '@/lib/features/order/schema'

const WAYS = [
  { value: 'sent', label: 'Sent' },
  { value: 'collected', label: 'Collected here' },
]
const SEXES = [
  { value: 'any', label: 'either' },
  { value: 'female', label: '♀ female' },
  { value: 'male', label: '♂ male' },
]
const MOST_LINES = 6

type Countries = { value: string; label: string }[]
type Props = { workspace: string; page: NewOrderPage; countries: Countries }

export function NewOrder({ workspace, page, countries }: Props) {
  const router = useRouter()
  const [lines, setLines] = useState(1)
  const [things, setThings] = useState(0)
  function goOn({ id }: { id: string }) {
    showToast({ what: 'The order is written down.' })
    router.push(`/w/${workspace}/orders/${id}`)
  }
  return (
    <RecordForm
      name="new-order"
      schema={orderFormSchema}
      action={createOrderAction}
      workspace={workspace}
      defaultValues={{
        way: 'sent',
        lines: [{ sex: 'any', stage: 'any', count: 1 }],
        transitDays: page.transitDays,
        isCollectedAtDepot: false,
        isForBeginner: false,
        notBefore: '',
        awayFrom: '',
        awayUntil: '',
        paidKind: '',
        paidOn: '',
        buyer: '',
        country: '',
      }}
      onDone={goOn}
      submitLabel="Write it down"
      className="mt-6"
    >
      <FormRadio name="way" label="How it leaves" choices={WAYS} look="tiles" />
      {Array.from({ length: lines }, (_, index) => index).map((index) => (
        <Line key={index} index={index} page={page} />
      ))}
      {lines < MOST_LINES ? (
        <Button kind="plain" onClick={() => setLines(lines + 1)}>
          Another line
        </Button>
      ) : null}
      {lines > 0 ? (
        <WithoutLast name="lines" onDone={() => setLines(lines - 1)}>
          Without line {lines}
        </WithoutLast>
      ) : null}
      {Array.from({ length: things }, (_, index) => index).map((index) => (
        <fieldset key={index} className="space-y-3 border-line border-t pt-3">
          <legend className="pe-3 font-semibold">Besides animals {index + 1}</legend>
          <StockItemFields items={page.items} currency={page.currency} prefix={`stock.${index}.`} />
        </fieldset>
      ))}
      {things < MOST_LINES ? (
        <Button kind="plain" onClick={() => setThings(things + 1)}>
          Something besides animals
        </Button>
      ) : null}
      {things > 0 ? (
        <WithoutLast name="stock" onDone={() => setThings(things - 1)}>
          Without the last of them
        </WithoutLast>
      ) : null}
      <Person page={page} />
      <Journey page={page} countries={countries} />
      <FormTextArea name="note" label="Note" isOptional hint="For you. No addresses here: it is kept." />
    </RecordForm>
  )
}

type Without = { name: 'lines' | 'stock'; onDone: () => void; children: ReactNode }

/** What stood in it goes with it. */
function WithoutLast({ name, onDone, children }: Without) {
  const { getValues, setValue } = useFormContext()
  function leaveOut() {
    const typed: unknown[] = getValues(name) ?? []
    setValue(name, typed.slice(0, -1))
    onDone()
  }
  return (
    <Button kind="quiet" onClick={leaveOut}>
      {children}
    </Button>
  )
}

function Line({ index, page }: { index: number; page: NewOrderPage }) {
  const name = (field: string) => `lines.${index}.${field}`
  return (
    <fieldset className="space-y-3 border-line border-t pt-3">
      <legend className="pe-3 font-semibold">Line {index + 1}</legend>
      <FormSelect name={name('species')} label="Species" placeholder="Choose one" choices={page.species} />
      <div className="grid grid-cols-2 gap-3">
        <FormSelect name={name('stage')} label="Stage when it leaves" choices={page.stages} />
        <FormSelect name={name('sex')} label="Sex" choices={SEXES} />
        <FormNumber name={name('count')} label="How many" isWhole />
        <FormNumber name={name('price')} label="Price each" unit={page.currency} />
      </div>
    </fieldset>
  )
}

function Person({ page }: { page: NewOrderPage }) {
  return (
    <fieldset className="space-y-3 border-line border-t pt-3">
      <legend className="pe-3 font-semibold">For whom</legend>
      {page.buyers.length > 0 ? (
        <FormSelect
          name="buyer"
          label="Buyer on record"
          isOptional
          choices={[{ value: '', label: 'nobody on record' }, ...page.buyers]}
        />
      ) : null}
      <FormText name="name" label="Name" isOptional autoComplete="off" />
      <FormTextArea
        name="address"
        label="Address"
        isOptional
        hint="Kept until some days after the arrival, then forgotten. It is not on the trail of changes."
      />
      <FormText name="phone" label="Phone" isOptional autoComplete="off" />
      <FormCheckbox name="isForBeginner" label="For a beginner: nothing too young" />
      <Paid page={page} />
    </fieldset>
  )
}

/** What came with the order; more is written down on its page. */
function Paid({ page }: { page: NewOrderPage }) {
  const kind: unknown = useWatch({ name: 'paidKind' })
  return (
    <>
      <FormSelect
        name="paidKind"
        label="Paid"
        isOptional
        choices={[{ value: '', label: 'not yet' }, ...PAYMENT_WORDS]}
      />
      {kind ? (
        <div className="grid grid-cols-2 gap-3">
          <FormNumber
            name="paidAmount"
            label="How much"
            unit={page.currency}
            isOptional
            hint="Left empty: all of it."
          />
          <FormDate name="paidOn" label="Paid on" isOptional hint="Left empty: today." />
        </div>
      ) : null}
    </>
  )
}

function Journey({ page, countries }: Omit<Props, 'workspace'>) {
  return (
    <fieldset className="space-y-3 border-line border-t pt-3">
      <legend className="pe-3 font-semibold">The journey, if it is sent</legend>
      <div className="grid grid-cols-2 gap-3">
        <FormSelect name="country" label="Country" isOptional choices={countries} />
        <FormText
          name="area"
          label="Area for the air"
          isOptional
          hint="Country and first figures, such as DE 79."
        />
        <FormNumber
          name="transitDays"
          label="Days on the way"
          isWhole
          hint={`Usually ${page.transitDays}.`}
        />
        <FormDate name="notBefore" label="Not before" isOptional />
        <FormDate name="awayFrom" label="Nobody is in from" isOptional hint="No box arrives on these days." />
        <FormDate name="awayUntil" label="Nobody is in until" isOptional hint="Left empty: that one day." />
      </div>
      <FormCheckbox name="isCollectedAtDepot" label="The buyer takes it at the depot" />
    </fieldset>
  )
}
