'use client'

import { type FormEvent, useState } from 'react'
import { Button } from '@/components/ui/button'
import { TextField } from '@/components/ui/text-field'
import { formatCode, parseCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import type { StallAnimal, StallPart } from '@/lib/features/stall/schema'

type Props = {
  kept: StallPart
  sold: ReadonlySet<string>
  chosen: readonly string[]
  onChoose: (id: string) => void
}

/** A hand scanner types the code and presses Enter; a finger taps the row. Typing narrows the list. */
export function AnimalChoice({ kept, sold, chosen, onChoose }: Props) {
  const [typed, setTyped] = useState('')
  const [why, setWhy] = useState<string>()
  const isHere = (animal: StallAnimal) => animal.gone === null && !sold.has(animal.id)
  const here = kept.animals.filter(isHere)
  const wanted = typed.trim().toLowerCase()
  const shown = here.filter(
    ({ label, description }) =>
      wanted === '' ||
      label.replaceAll(' ', '').toLowerCase().includes(wanted.replaceAll(' ', '')) ||
      description.toLowerCase().includes(wanted),
  )
  function enter(event: FormEvent) {
    event.preventDefault()
    const found = findByCode(typed, kept.animals)
    const only = found ?? (shown.length === 1 ? shown[0] : undefined)
    if (!only) return setWhy(typed.trim() === '' ? 'Type or scan a label.' : sayUnknown(typed))
    if (!isHere(only))
      return setWhy(`${only.label} is ${only.gone ?? 'on a receipt of this device already'}.`)
    setWhy(undefined)
    setTyped('')
    onChoose(only.id)
  }
  return (
    <section aria-label="In this part of the box">
      <form onSubmit={enter} className="flex flex-wrap items-end gap-2">
        <div className="w-64">
          <TextField
            label="Label or species"
            name="stall-code"
            placeholder="K7Q 97"
            autoCapitalize="characters"
            spellCheck={false}
            value={typed}
            error={why}
            onChange={(event) => setTyped(event.target.value)}
          />
        </div>
        <Button type="submit">Add</Button>
      </form>
      <p className="mt-3 text-small text-soft">
        {here.length} of {kept.animals.length} are still in this part of the box.
      </p>
      <ul className="mt-1 max-h-[40vh] divide-y divide-line overflow-y-auto border-line border-y">
        {shown.map((animal) => (
          <AnimalRow
            key={animal.id}
            animal={animal}
            currency={kept.workspace.currency}
            isChosen={chosen.includes(animal.id)}
            onChoose={onChoose}
          />
        ))}
      </ul>
    </section>
  )
}

type RowProps = { animal: StallAnimal; currency: string; isChosen: boolean; onChoose: (id: string) => void }

function AnimalRow({ animal, currency, isChosen, onChoose }: RowProps) {
  return (
    <li>
      <button
        type="button"
        className="target flex w-full flex-wrap items-baseline justify-between gap-x-4 px-1 py-2 text-start hover:bg-wash disabled:opacity-60"
        disabled={isChosen}
        onClick={() => onChoose(animal.id)}
      >
        <span>
          <span className="font-name font-semibold tabular-nums">{animal.label}</span>{' '}
          <span className="text-small">{animal.description}</span>
        </span>
        <span className="text-small tabular-nums">
          {isChosen
            ? 'on the counter'
            : animal.priceMinor === null
              ? 'no price'
              : writeMoney(animal.priceMinor, currency, 'en')}
        </span>
      </button>
    </li>
  )
}

/** The code on a label is the end of an address. */
function findByCode(typed: string, animals: readonly StallAnimal[]): StallAnimal | undefined {
  const parsed = parseCode((typed.trim().split('/').at(-1) ?? '').replaceAll(/[?#].*$/g, ''))
  if (parsed.status !== 'ok') return undefined
  return animals.find(({ label }) => label === formatCode(parsed.code))
}

function sayUnknown(typed: string): string {
  return `“${typed.trim().slice(0, 40)}” is not in this part of the box.`
}
