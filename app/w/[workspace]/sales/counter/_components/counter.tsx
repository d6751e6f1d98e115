'use client'

import { useRouter } from 'next/navigation'
import { CounterLines } from '@/components/counter/counter-lines'
import { CounterTotal } from '@/components/counter/counter-total'
import { PaymentFields } from '@/components/counter/payment-fields'
import { MaybePaper } from '@/components/paper/paper-fields'
import { FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { Notice } from '@/components/ui/notice'
import { createSaleAction } from '@/lib/features/sale/actions'
import type { CounterPage } from '@/lib/features/sale/loaders'
import { counterSaleSchema } from '@/lib/features/sale/schema'
import { BuyerChoice } from './buyer-choice'
import { CodeEntry } from './code-entry'
import { SomethingElse } from './something-else'
import { StockLines } from './stock-lines'

type Props = { workspace: string; page: CounterPage }
type Shown = { codes: readonly string[]; also: readonly string[]; buyer: string }

export function Counter({ workspace, page }: Props) {
  const router = useRouter()
  const { items, codes, unread, currency, stock, terms } = page
  const here = items.filter(({ isGone }) => !isGone)
  const shown: Shown = { codes, also: stock.map(({ kind, id }) => `${kind}~${id}`), buyer: page.buyer }
  const show = (change: Partial<Shown>) => router.replace(addressOf(workspace, { ...shown, ...change }))
  const count = here.length + stock.length
  return (
    <div className="mt-4 max-w-3xl space-y-6">
      <CodeEntry onEnter={(typed) => show({ codes: [...codes, typed] })} />
      <SomethingElse choices={page.choices} onAdd={(key) => show({ also: [...shown.also, key] })} />
      {unread.map(({ typed, why }) => (
        <Notice key={typed} state="due" isAnnounced what={`“${typed}” was not found.`} why={why} />
      ))}
      {items
        .filter(({ isGone }) => isGone)
        .map(({ id, leave }) => (
          <Notice key={id} state="late" isAnnounced what={leave.blocks[0]?.message ?? 'It is not here.'} />
        ))}
      {count === 0 ? (
        <p className="text-soft">
          Type the code of a cup or scan it with a hand scanner; several animals go on one receipt, and lots,
          egg cases, jars, cups and food with them.
        </p>
      ) : (
        <RecordForm
          name="counter"
          schema={counterSaleSchema}
          action={createSaleAction}
          workspace={workspace}
          defaultValues={{ lines: [], stock: [], buyer: page.buyer, payments: [{ kind: 'cash' }] }}
          onDone={({ id }) => router.push(`/w/${workspace}/sales/${id}`)}
          submitLabel={count === 1 ? 'Sell it' : `Sell these ${count}`}
          className="max-w-none"
        >
          <CounterLines
            items={here}
            currency={currency}
            rates={terms.rates}
            onRemove={(label) => show({ codes: codes.filter((code) => code !== label) })}
          />
          <StockLines
            stock={stock}
            currency={currency}
            rates={terms.rates}
            prices={terms.prices}
            onRemove={(key) => show({ also: shown.also.filter((each) => each !== key) })}
          />
          <BuyerChoice buyers={page.buyers} onChoose={(buyer) => show({ buyer })} />
          <PaymentFields currency={currency} />
          {terms.certifiedTill ? (
            <FormText
              name="certifiedNumber"
              label="Number of the certified till’s receipt"
              isOptional
              hint="The law’s receipt is the one that till writes."
            />
          ) : null}
          <MaybePaper title="A paper that goes with it" />
          <FormTextArea name="note" label="Note on the receipt" isOptional rows={2} />
          <CounterTotal currency={currency} pricesIncludeTax={terms.pricesIncludeTax} rates={terms.rates} />
        </RecordForm>
      )}
    </div>
  )
}

function addressOf(workspace: string, { codes, also, buyer }: Shown): string {
  const parts = [
    codes.length > 0 ? `codes=${codes.join(',')}` : '',
    also.length > 0 ? `also=${also.map(encodeURIComponent).join(',')}` : '',
    buyer ? `buyer=${buyer}` : '',
  ].filter(Boolean)
  return `/w/${workspace}/sales/counter${parts.length > 0 ? `?${parts.join('&')}` : ''}`
}
