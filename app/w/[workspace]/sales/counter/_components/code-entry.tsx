'use client'

import { type FormEvent, useEffect, useRef } from 'react'
import { Button } from '@/components/ui/button'
import { TextField } from '@/components/ui/text-field'

/** A hand scanner types and presses Enter; the box is emptied and keeps the focus for the next cup. */
export function CodeEntry({ onEnter }: { onEnter: (typed: string) => void }) {
  const form = useRef<HTMLFormElement>(null)
  const getBox = () => form.current?.querySelector('input') ?? null
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the counter opens
  useEffect(() => getBox()?.focus(), [])

  function enter(event: FormEvent) {
    event.preventDefault()
    const box = getBox()
    const typed = readCode(box?.value ?? '')
    if (!box || typed === '') return
    onEnter(typed)
    box.value = ''
    box.focus()
  }

  return (
    <form ref={form} onSubmit={enter} className="flex items-end gap-2">
      <div className="w-64">
        <TextField
          label="Label"
          name="code"
          placeholder="K7Q 97"
          autoCapitalize="characters"
          spellCheck={false}
        />
      </div>
      <Button type="submit">Add</Button>
    </form>
  )
}

/** The code on a label is the end of an address; a comma would end one code and begin another. */
function readCode(typed: string): string {
  const end = typed.trim().split('/').at(-1) ?? ''
  return end.replaceAll(/[,?#].*$/g, '')
}
