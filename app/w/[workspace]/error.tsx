'use client'

import { TroublePage } from '@/components/shell/trouble-page'

type Props = { error: Error & { digest?: string }; retry: () => void }

/** Asks the server again, not only the browser: most of what fails here fails there. */
export default function WorkspaceError({ error, retry }: Props) {
  return <TroublePage reference={error.digest} onRetry={retry} />
}
