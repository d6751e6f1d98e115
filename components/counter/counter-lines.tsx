'use client'

import { get, useFormContext } from 'react-hook-form'
import { Button } from '@/components/ui/button'
import { FormNumber, FormText } from '@/components/ui/form/form-field'
import { Notice } from '@/components/ui/notice'
import { StateMark } from '@/components/ui/state-mark'
import { formatCode } from '@/lib/domain/label/code'
import { spokenPrice } from '@/lib/domain/money/money'
import { LineTerms, type Rates } from './line-terms'
import { useFormLines } from './use-form-lines'

/** An animal on the counter: what it is, whether it may go, and what the list says it costs. */
export type OnCounter = {
  id: string
  label: string
  description: string
  leave: { may: boolean; blocks: Advice[]; warnings: Advice[] }
  priceMinor: number | null
  keptBack: { whom: string | null; open: readonly string[] }
  /** who lets it leave today all the same, and why */
  cleared: readonly string[]
}
type Advice = { code: string; message: string }
type Props = { items: OnCounter[]; currency: string; rates: Rates; onRemove: (label: string) => void }

/** One line per animal: may it go, and for how much. What was typed stays when another animal joins. */
export function CounterLines({ items, currency, rates, onRemove }: Props) {
  const lines = items.map(({ id, leave, keptBack, priceMinor }) => ({
    individual: id,
    isAdvisedAgainst: !leave.may && keptBack.open.length > 0,
    isKeptBack: keptBack.whom !== null,
    price: spokenPrice(priceMinor, currency),
    overrideReason: '',
  }))
  useFormLines('lines', lines, ({ individual }) => individual)
  if (items.length === 0) return null
  return (
    <ul aria-label="On the counter" className="divide-y divide-line border-line border-y">
      {items.map((item, index) => (
        <CounterLine key={item.id} {...{ item, index, currency, rates, onRemove }} />
      ))}
    </ul>
  )
}

type LineProps = { item: OnCounter; index: number } & Omit<Props, 'items'>

function CounterLine({ item, index, currency, rates, onRemove }: LineProps) {
  const { leave, label, description } = item
  return (
    <li className="grid gap-x-6 gap-y-3 py-4 desk:grid-cols-[minmax(0,1fr)_12rem]">
      <div className="min-w-0">
        <p className="font-name text-name tabular-nums">{formatCode(label)}</p>
        <p className="text-small text-soft">{description}</p>
        <p className="mt-1">
          <StateMark
            state={leave.may ? 'fine' : 'leave-alone'}
            word={leave.may ? 'may leave today' : 'should stay today'}
          />
        </p>
        {[...leave.blocks, ...leave.warnings].map(({ code, message }) => (
          <p key={code} className="mt-1 text-small">
            {message}
          </p>
        ))}
        {item.cleared.map((words) => (
          <p key={words} className="mt-1 text-small">
            Let go all the same today. {words}
          </p>
        ))}
        <div className="mt-3">
          <MayLeave item={item} name={`lines.${index}`} />
        </div>
      </div>
      <div className="space-y-2">
        <FormNumber name={`lines.${index}.price`} label="Price" unit={currency} />
        <LineTerms name={`lines.${index}`} currency={currency} rates={rates} />
        <Button
          kind="quiet"
          className="-ms-4"
          onClick={() => onRemove(label)}
          aria-label={`Take ${formatCode(label)} off`}
        >
          Take it off
        </Button>
      </div>
    </li>
  )
}

/** Against what speaks against it: a reason of whoever may, or whom to ask. */
function MayLeave({ item: { leave, keptBack }, name }: { item: OnCounter; name: string }) {
  const { formState } = useFormContext()
  const refused: unknown = get(formState.errors, `${name}.isKeptBack.message`)
  if (keptBack.whom !== null)
    return (
      <Notice
        state="leave-alone"
        isAnnounced={typeof refused === 'string'}
        what={typeof refused === 'string' ? refused : 'You cannot let it leave today.'}
        why={`${keptBack.whom} to let it leave on its page, or take it off.`}
      />
    )
  if (leave.may || keptBack.open.length === 0) return null
  return (
    <FormText
      name={`${name}.overrideReason`}
      label="Why it leaves all the same"
      hint="It is recorded beside the sale."
    />
  )
}
