'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { createCareSheetsAction } from '@/lib/features/care-sheet/actions'
import { useDevicePaper } from './device-paper'
import { printFile } from './print-file'

type Props = {
  workspace: string
  individual: string
  language?: string
  kind?: 'filled' | 'plain'
  label?: string
}

/** Records the sheet, then prints it: the code on it leads somewhere before anybody can scan it. */
export function PrintSheet({ workspace, individual, language, kind, label = 'Care sheet' }: Props) {
  const done = useDone()
  const { paper } = useDevicePaper()
  const choice = { ...(language ? { language } : {}), ...(paper ? { paper } : {}) }
  return (
    <ActionButton
      action={createCareSheetsAction}
      workspace={workspace}
      input={{ individuals: [individual], ...choice }}
      kind={kind}
      onDone={() => {
        done('The sheet goes to the printer.')
        printFile(`/w/${workspace}/individuals/${individual}/care-sheet.pdf?${new URLSearchParams(choice)}`)
      }}
    >
      {label}
    </ActionButton>
  )
}
