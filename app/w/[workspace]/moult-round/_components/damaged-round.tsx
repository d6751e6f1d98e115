'use client'

import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'

type Props = { text: string; onForget: () => void }

/** A round that this device kept and cannot read any more: said, and handed over as it is. */
export function DamagedRound({ text, onForget }: Props) {
  function save() {
    const address = URL.createObjectURL(new Blob([text], { type: 'text/plain' }))
    const link = Object.assign(document.createElement('a'), { href: address, download: 'moult-round.txt' })
    link.click()
    // The browser reads the file after the click has returned.
    setTimeout(() => URL.revokeObjectURL(address), 60_000)
  }
  return (
    <Notice
      state="late"
      isAnnounced
      what="A round kept on this device cannot be read."
      why="What of it was not sent yet is not recorded. It was put aside as it is: save it, compare it with the animals’ records, and walk those shelves again."
      next={
        <span className="flex flex-wrap gap-2">
          <Button onClick={save}>Save it as a file</Button>
          <Button kind="quiet" onClick={onForget}>
            Throw it away
          </Button>
        </span>
      }
    />
  )
}
