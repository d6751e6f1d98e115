'use client'

import { useEffect, useState } from 'react'

/** Whether this page opens without a connection: `plain-http` never, `making` soon, `none` where it failed. */
export type PageCopy = 'making' | 'kept' | 'plain-http' | 'none'

/** Lets the device keep a copy of this page and its files, so that it opens without a connection. */
export function usePageCopy(isBuilt: boolean): PageCopy {
  const [copy, setCopy] = useState<PageCopy>('making')
  useEffect(() => {
    if (!window.isSecureContext) return setCopy('plain-http')
    // The development server's files change under the same name.
    if (!isBuilt || !('serviceWorker' in navigator)) return setCopy('none')
    navigator.serviceWorker
      .register('/bench/worker.mjs', { scope: '/bench' })
      .then(() => navigator.serviceWorker.ready)
      .then(
        () => setCopy('kept'),
        () => setCopy('none'),
      )
    // Asks the browser not to clear the taps away when the disk runs full; it may say no.
    void navigator.storage?.persist?.()
  }, [isBuilt])
  return copy
}
