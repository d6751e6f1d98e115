'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import {
  archivePriceListAction,
  createPriceListAction,
  proposePriceListAction,
} from '@/lib/features/price-list/actions'
import type { PricesPage } from '@/lib/features/price-list/loaders'
import { createPriceListSchema } from '@/lib/features/price-list/schema'

type Props = { workspace: string; page: PricesPage }

export function AddList({ workspace, page }: Props) {
  const router = useRouter()
  const isFirst = page.lists.length === 0
  return (
    <DialogButton
      label={isFirst ? 'Make a price list' : 'Another list'}
      kind={isFirst ? 'filled' : 'quiet'}
      title="A price list"
    >
      {({ close }) => (
        <RecordForm
          name="price-list"
          schema={createPriceListSchema}
          action={createPriceListAction}
          workspace={workspace}
          defaultValues={{ copyOf: page.list?.id ?? '' }}
          onDone={({ id }) => {
            close()
            router.push(`/w/${workspace}/sales/prices?list=${id}`)
          }}
          submitLabel="Make it"
        >
          <FormText name="name" label="Name" hint="At the counter, for shops, insect fair." />
          {isFirst ? null : (
            <FormSelect
              name="copyOf"
              label="Begin with the prices of"
              isOptional
              placeholder="none"
              choices={page.lists.map(({ id, name }) => ({ value: id, label: name }))}
            />
          )}
        </RecordForm>
      )}
    </DialogButton>
  )
}

export function ListActions({ workspace, page, list }: Props & { list: NonNullable<PricesPage['list']> }) {
  const done = useDone()
  const input = { id: list.id, version: list.version }
  return (
    <div className="no-print mt-2 mb-4 flex flex-wrap items-center gap-x-2">
      {list.proposed ? (
        <p className="pe-4 text-small">The counter proposes from this list.</p>
      ) : (
        <ActionButton
          action={proposePriceListAction}
          workspace={workspace}
          input={input}
          onDone={() => done('The counter proposes from it now.')}
        >
          Propose from this list
        </ActionButton>
      )}
      <AddList workspace={workspace} page={page} />
      <ActionButton
        kind="quiet"
        action={archivePriceListAction}
        workspace={workspace}
        input={input}
        onDone={() => done('The list is out of use.')}
      >
        Out of use
      </ActionButton>
    </div>
  )
}
