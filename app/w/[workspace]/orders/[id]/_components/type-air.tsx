'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordAirAction } from '@/lib/features/dispatch/actions'
import { recordAirSchema } from '@/lib/features/dispatch/schema'
import type { OrderPage } from '@/lib/features/order/loaders'

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'ownArea' | 'dispatch'> }

/** The lowest and highest air of a day, as somebody looked it up. */
export function TypeAir({ workspace, page }: Props) {
  const done = useDone()
  const { order, ownArea, dispatch } = page
  const areas = [
    ...(order.area ? [{ value: order.area, label: `there (${order.area})` }] : []),
    ...(ownArea ? [{ value: ownArea, label: `here (${ownArea})` }] : []),
  ]
  if (areas.length === 0)
    return (
      <p className="mt-4 text-small text-soft">
        Neither end has an area to look the air up for: say ours under “How we send”, and the buyer’s with the
        order.
      </p>
    )
  const first = dispatch?.answer.days[0]
  return (
    <div className="no-print mt-4">
      <DialogButton label="Enter the air of a day" kind="plain" title="The air of a day">
        {({ close }) => (
          <RecordForm
            name="air"
            schema={recordAirSchema}
            action={recordAirAction}
            workspace={workspace}
            defaultValues={{ area: areas[0]?.value, on: first?.arriveOn }}
            onDone={() => {
              close()
              done('The days are worked out with it.')
            }}
            submitLabel="Reckon with it"
          >
            <FormSelect name="area" label="Where" choices={areas} />
            <FormDate name="on" label="Day" />
            <FormNumber name="lowC" label="Lowest, night and depot included" unit="°C" />
            <FormNumber name="highC" label="Highest" unit="°C" />
          </RecordForm>
        )}
      </DialogButton>
    </div>
  )
}
