'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { createCareSheetsAction } from '@/lib/features/care-sheet/actions'

type Props = {
  workspace: string
  individual: string
  language?: string
  kind?: 'filled' | 'plain'
  label?: string
}

/** Records the sheet, then shows it: the code on it leads somewhere before anybody can scan it. */
export function PrintSheet({ workspace, individual, language, kind, label = 'Care sheet' }: Props) {
  const done = useDone()
  const choice = language ? { language } : {}
  const query = language ? `?language=${language}` : ''
  return (
    <ActionButton
      action={createCareSheetsAction}
      workspace={workspace}
      input={{ individuals: [individual], ...choice }}
      kind={kind}
      onDone={() => {
        done('The sheet is in its own window.')
        window.open(`/w/${workspace}/individuals/${individual}/care-sheet.pdf${query}`, '_blank', 'noopener')
      }}
    >
      {label}
    </ActionButton>
  )
}
