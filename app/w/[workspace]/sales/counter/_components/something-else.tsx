'use client'

import { useState } from 'react'
import { Button } from '@/components/ui/button'
import { DialogButton } from '@/components/ui/dialog'
import { Select } from '@/components/ui/select'
import type { CounterPage } from '@/lib/features/sale/loaders'

const KIND_NAMES = {
  lot: 'Siblings of a clutch, as a lot',
  egg_case: 'An egg case',
  culture: 'A culture',
  container: 'Containers',
  pack: 'Live food in packs',
} as const

type Choices = CounterPage['choices']

/** What is sold besides single animals, chosen by its kind and then by its name. */
export function SomethingElse({ choices, onAdd }: { choices: Choices; onAdd: (key: string) => void }) {
  return (
    <DialogButton
      label="Something else"
      kind="quiet"
      className="-ms-4"
      title="Put something else on the counter"
    >
      {({ close }) => (
        <Chooser
          choices={choices}
          onAdd={(key) => {
            close()
            onAdd(key)
          }}
        />
      )}
    </DialogButton>
  )
}

function Chooser({ choices, onAdd }: { choices: Choices; onAdd: (key: string) => void }) {
  const kinds = Object.entries(KIND_NAMES).filter(([kind]) => choices.some((choice) => choice.kind === kind))
  const [kind, setKind] = useState(kinds[0]?.[0] ?? '')
  const named = choices.filter((choice) => choice.kind === kind)
  const [picked, setPicked] = useState('')
  const id = named.some((choice) => choice.id === picked) ? picked : (named[0]?.id ?? '')
  if (kinds.length === 0) return <p>There is nothing here to be sold besides single animals.</p>
  return (
    <div className="space-y-5">
      <Select
        label="What"
        choices={kinds.map(([value, label]) => ({ value, label }))}
        value={kind}
        onChange={(event) => setKind(event.target.value)}
      />
      <Select
        label="Which"
        choices={named.map(({ id: value, label, left }) => ({
          value,
          label: kind === 'lot' || kind === 'container' ? `${label} (${left} left)` : label,
        }))}
        value={id}
        onChange={(event) => setPicked(event.target.value)}
      />
      <Button kind="filled" onClick={() => onAdd(`${kind}~${id}`)}>
        Put it on the counter
      </Button>
    </div>
  )
}
