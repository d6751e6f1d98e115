/** What this device remembers of its desk. A browser that forbids it (some private windows) remembers nothing. */
export function readDevice(key: string): string {
  try {
    return window.localStorage.getItem(key) ?? ''
  } catch {
    return ''
  }
}

/** Empty forgets it. Answers whether it was kept: the choice holds on this page either way. */
export function keepOnDevice(key: string, text: string): boolean {
  try {
    if (text === '') window.localStorage.removeItem(key)
    else window.localStorage.setItem(key, text)
    return true
  } catch {
    return false
  }
}
