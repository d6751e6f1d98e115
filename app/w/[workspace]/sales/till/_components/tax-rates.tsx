'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormNumber, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { SALE_LINE_KIND_WORDS, SALE_LINE_KINDS } from '@/lib/features/stock-line/schema'
import { archiveTaxRateAction, createTaxRateAction } from '@/lib/features/tax-rate/actions'
import { taxRateSchema } from '@/lib/features/tax-rate/schema'
import type { TillPage } from '@/lib/features/till/loaders'
import { FormTicks } from './form-ticks'

type Props = { workspace: string; rates: TillPage['terms']['rates'] }

/** The rates of tax, and what each is proposed for. Which rate is right is the law's to say. */
export function TaxRates({ workspace, rates }: Props) {
  const done = useDone()
  return (
    <section className="mt-10 max-w-xl">
      <div className="flex flex-wrap items-end justify-between gap-3">
        <h2>Rates of tax</h2>
        <AddRate workspace={workspace} />
      </div>
      <p className="mt-1 text-small text-soft">
        Tax is rounded once for each rate of a receipt, half up to the smallest coin, and dealt out to its
        lines. Which rate holds for what is for your tax office to say.
      </p>
      {rates.length === 0 ? (
        <p className="mt-3">None: receipts show no tax.</p>
      ) : (
        <ul className="mt-3 divide-y divide-line border-line border-y">
          {rates.map(({ id, name, basisPoints, appliesTo, version }) => (
            <li key={id} className="flex flex-wrap items-center justify-between gap-x-4 py-2">
              <span>
                <strong className="tabular-nums">{basisPoints / 100} %</strong> {name}
                <span className="block text-small text-soft">
                  {appliesTo.length > 0
                    ? `for ${appliesTo.map((kind) => SALE_LINE_KIND_WORDS[kind]).join(', ')}`
                    : 'chosen by hand'}
                </span>
              </span>
              <ActionButton
                kind="quiet"
                action={archiveTaxRateAction}
                workspace={workspace}
                input={{ id, version }}
                onDone={() => done('Out of use. Receipts keep what they say.')}
              >
                Out of use
              </ActionButton>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

function AddRate({ workspace }: { workspace: string }) {
  const done = useDone()
  return (
    <DialogButton label="Add a rate" title="Add a rate of tax">
      {({ close }) => (
        <RecordForm
          name="tax-rate"
          schema={taxRateSchema}
          action={createTaxRateAction}
          workspace={workspace}
          defaultValues={{ appliesTo: [] }}
          onDone={() => {
            close()
            done('The rate is there.')
          }}
          submitLabel="Add it"
        >
          <FormText name="name" label="Name" hint="As it stands on receipts." />
          <FormNumber name="percent" label="Rate" unit="%" />
          <FormTicks
            name="appliesTo"
            label="Proposed for"
            choices={SALE_LINE_KINDS.map((value) => ({ value, label: SALE_LINE_KIND_WORDS[value] }))}
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
