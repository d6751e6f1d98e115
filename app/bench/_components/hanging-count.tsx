'use client'

import { Button } from '@/components/ui/button'

type Props = { hanging: number; together: number; onChange: (hanging: number) => void }

/** How many hang for a moult, counted with one finger: they are not put into cups tonight. */
export function HangingCount({ hanging, together, onChange }: Props) {
  const change = (next: number) => onChange(Math.max(0, Math.min(together, next)))
  return (
    <fieldset className="flex flex-wrap items-center gap-x-3 gap-y-1">
      <legend className="sr-only">How many of them hang for a moult</legend>
      <span className="text-small text-soft">Do some hang for a moult?</span>
      <span className="flex items-center gap-2">
        <Button aria-label="One fewer hangs" onClick={() => change(hanging - 1)}>
          −
        </Button>
        <output aria-label="Hanging" className="w-10 text-center font-semibold text-lead">
          {hanging}
        </output>
        <Button aria-label="One more hangs" onClick={() => change(hanging + 1)}>
          +
        </Button>
      </span>
    </fieldset>
  )
}
