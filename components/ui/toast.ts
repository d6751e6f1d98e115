import { toast } from 'sonner'

type Message = {
  what: string
  why?: string
  /** The way back. */
  undo?: { label: string; act: () => void }
}

/** A short word that something worked. What went wrong stays on the page instead, in a notice. */
export function showToast({ what, why, undo }: Message): void {
  toast(what, {
    description: why,
    action: undo ? { label: undo.label, onClick: undo.act } : undefined,
    duration: undo ? 15_000 : 6_000,
  })
}
