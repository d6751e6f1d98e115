'use client'

import { Button } from './button'
import { showToast } from './toast'

/** Copies a text that stands beside it. Where a browser does not allow that, the text can be marked by hand. */
export function CopyButton({ text, label }: { text: string; label: string }) {
  async function copy() {
    try {
      await navigator.clipboard.writeText(text)
      showToast({ what: 'Copied.' })
    } catch {
      showToast({ what: 'This browser does not copy here.', why: 'Mark the text and copy it by hand.' })
    }
  }
  return (
    <Button kind="quiet" onClick={copy}>
      {label}
    </Button>
  )
}
