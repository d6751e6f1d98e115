'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormRadio } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordPreyCountAction, recordPreyDepartureAction } from '@/lib/features/prey/actions'
import { newPreyCountSchema, newPreyDepartureSchema } from '@/lib/features/prey/schema'

type Props = { workspace: string; line: string; name: string; today: string }

const WAYS = [
  { value: 'sold', label: 'Sold' },
  { value: 'fed_out', label: 'Fed to others' },
  { value: 'wasted', label: 'Thrown out' },
]

/** What stands there, and what left other than into our own animals. */
export function StockForms({ workspace, line, name, today }: Props) {
  const done = useDone()
  return (
    <>
      <DialogButton label="Count" kind="plain" title={`${name}: what stands there`}>
        {({ close }) => (
          <RecordForm
            name={`count-${line}`}
            schema={newPreyCountSchema}
            action={recordPreyCountAction}
            workspace={workspace}
            defaultValues={{ line, on: today }}
            onDone={() => {
              close()
              done('Counted.')
            }}
            submitLabel="Record the count"
          >
            <FormNumber name="count" label="How many" isWhole hint="About is good enough." />
            <FormDate name="on" label="On" />
          </RecordForm>
        )}
      </DialogButton>
      <DialogButton label="Sold or thrown out" kind="plain" title={`${name}: what left`}>
        {({ close }) => (
          <RecordForm
            name={`departure-${line}`}
            schema={newPreyDepartureSchema}
            action={recordPreyDepartureAction}
            workspace={workspace}
            defaultValues={{ line, on: today, how: 'sold' }}
            onDone={() => {
              close()
              done('It has left the supply.')
            }}
            submitLabel="Record it"
          >
            <FormRadio name="how" label="How" choices={WAYS} look="tiles" />
            <FormNumber name="count" label="How many" isWhole />
            <FormDate name="on" label="On" />
          </RecordForm>
        )}
      </DialogButton>
    </>
  )
}
