'use client'

import { PlainFrame } from '@/components/shell/plain-frame'
import { TroublePage } from '@/components/shell/trouble-page'

type Props = { error: Error & { digest?: string }; retry: () => void }

/** Asks the server again, not only the browser: most of what fails here fails there. */
export default function PageError({ error, retry }: Props) {
  return (
    <PlainFrame>
      <TroublePage reference={error.digest} onRetry={retry} />
    </PlainFrame>
  )
}
