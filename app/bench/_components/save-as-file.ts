import type { Entry } from '@/components/bench/queue/entry'

/** What a device has and could not send, for whoever can enter it by hand. */
export function saveAsFile(entries: readonly Entry[]): void {
  const text = JSON.stringify(
    entries.map(({ operation }) => operation),
    null,
    2,
  )
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }))
  link.download = 'bench-entries.json'
  link.click()
  URL.revokeObjectURL(link.href)
}
