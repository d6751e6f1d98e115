'use client'

import './globals.css'
import { TroublePage } from '@/components/shell/trouble-page'

/** Stands in for the root layout too, so it brings its own document. */
export default function GlobalError({ error }: { error: Error & { digest?: string } }) {
  return (
    <html lang="en">
      <body>
        <title>Oothecary</title>
        <main className="mx-auto max-w-[44rem] px-4 py-12">
          <TroublePage reference={error.digest} onRetry={() => window.location.reload()} />
        </main>
      </body>
    </html>
  )
}
