'use client'

import { type FormEvent, useEffect, useRef, useState } from 'react'
import { ScanDialog } from '@/components/scan/scan-dialog'
import { Button } from '@/components/ui/button'
import { TextField } from '@/components/ui/text-field'
import { readScanned } from '@/lib/domain/label/scan'

/**
 * A hand scanner types and presses Enter; the box is emptied and keeps the focus for the next cup.
 * The camera of the device does the same for whoever has no such scanner.
 */
export function CodeEntry({ onEnter }: { onEnter: (typed: string) => void }) {
  const form = useRef<HTMLFormElement>(null)
  const [isScanning, setScanning] = useState(false)
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

  function scan(text: string): string | undefined {
    const scanned = readScanned(text)
    if (scanned.status !== 'label') return `“${text.slice(0, 40)}” is no label of an animal.`
    setScanning(false)
    onEnter(scanned.code)
    return undefined
  }

  return (
    <form ref={form} onSubmit={enter} className="flex flex-wrap items-end gap-2">
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
      <Button kind="quiet" onClick={() => setScanning(true)}>
        Scan with the camera
      </Button>
      {isScanning ? <ScanDialog isOpen onClose={() => setScanning(false)} onRead={scan} /> : null}
    </form>
  )
}

/** The code on a label is the end of an address; a comma would end one code and begin another. */
function readCode(typed: string): string {
  const end = typed.trim().split('/').at(-1) ?? ''
  return end.replaceAll(/[,?#].*$/g, '')
}
