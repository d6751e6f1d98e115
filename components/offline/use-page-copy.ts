'use client'

import { useEffect, useState } from 'react'

/** Whether this page opens without a connection: `plain-http` never, `making` soon, `none` where it failed. */
export type PageCopy = 'making' | 'kept' | 'plain-http' | 'none'

/** Lets the device keep a copy of a page and its files, so that it opens without a connection. */
export function usePageCopy(page: '/bench' | '/stall', isBuilt: boolean): PageCopy {
  const [copy, setCopy] = useState<PageCopy>('making')
  useEffect(() => {
    if (!window.isSecureContext) return setCopy('plain-http')
    // The development server's files change under the same name.
    if (!isBuilt || !('serviceWorker' in navigator)) return setCopy('none')
    navigator.serviceWorker
      .register(`${page}/worker.mjs`, { scope: page })
      .then((registration) => waitUntilActive(registration))
      .then(
        () => setCopy('kept'),
        () => setCopy('none'),
      )
    // Asks the browser not to clear what is kept away when the disk runs full; it may say no.
    void navigator.storage?.persist?.()
  }, [page, isBuilt])
  return copy
}

/** `ready` would wait for whatever worker has the page; each page has its own. */
async function waitUntilActive({ active, installing, waiting }: ServiceWorkerRegistration): Promise<void> {
  const worker = active ?? waiting ?? installing
  if (!worker || worker.state === 'activated') return
  await new Promise<void>((resolve, reject) => {
    worker.addEventListener('statechange', () => {
      if (worker.state === 'activated') resolve()
      if (worker.state === 'redundant') reject(new Error('the copy could not be made'))
    })
  })
}
