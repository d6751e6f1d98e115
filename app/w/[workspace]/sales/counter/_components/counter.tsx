'use client'

import { useRouter } from 'next/navigation'
import { FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { Notice } from '@/components/ui/notice'
import { createSaleAction } from '@/lib/features/sale/actions'
import type { CounterPage } from '@/lib/features/sale/loaders'
import { counterSaleSchema } from '@/lib/features/sale/schema'
import { CodeEntry } from './code-entry'
import { CounterLines } from './counter-lines'
import { CounterTotal } from './counter-total'

type Props = { workspace: string; page: CounterPage }

export function Counter({ workspace, page }: Props) {
  const router = useRouter()
  const { items, codes, unread, currency } = page
  const here = items.filter(({ isGone }) => !isGone)
  const show = (next: readonly string[]) =>
    router.replace(`/w/${workspace}/sales/counter${next.length > 0 ? `?codes=${next.join(',')}` : ''}`)
  return (
    <div className="mt-4 max-w-3xl space-y-6">
      <CodeEntry onEnter={(typed) => show([...codes, typed])} />
      {unread.map(({ typed, why }) => (
        <Notice key={typed} state="due" isAnnounced what={`“${typed}” was not found.`} why={why} />
      ))}
      {items
        .filter(({ isGone }) => isGone)
        .map(({ id, leave }) => (
          <Notice key={id} state="late" isAnnounced what={leave.blocks[0]?.message ?? 'It is not here.'} />
        ))}
      {here.length === 0 ? (
        <p className="text-soft">
          Type the code of a cup or scan it with a hand scanner; several animals go on one receipt.
        </p>
      ) : (
        <RecordForm
          name="counter"
          schema={counterSaleSchema}
          action={createSaleAction}
          workspace={workspace}
          defaultValues={{ lines: [] }}
          onDone={({ id }) => router.push(`/w/${workspace}/sales/${id}`)}
          submitLabel={here.length === 1 ? 'Sell it' : `Sell these ${here.length}`}
          className="max-w-none"
        >
          <CounterLines
            items={here}
            currency={currency}
            onRemove={(label) => show(codes.filter((code) => code !== label))}
          />
          <FormTextArea name="note" label="Note on the receipt" isOptional rows={2} />
          <CounterTotal currency={currency} />
        </RecordForm>
      )}
    </div>
  )
}
