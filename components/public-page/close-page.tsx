'use client'

import { ConfirmButton } from '@/components/ui/form/confirm-button'
import { revokePublicLinkAction } from '@/lib/features/public-link/actions'

type Of = { individual: string } | { eggCase: string } | { lot: string }
type Props = { workspace: string; of: Of; version: number; label?: string }

/** Closes the page behind the codes of sheets: they lead nowhere from now on. */
export function ClosePage({ workspace, of, version, label = 'Close it' }: Props) {
  return (
    <ConfirmButton
      label={label}
      title="Close the public page?"
      action={revokePublicLinkAction}
      workspace={workspace}
      input={{ ...of, version }}
      confirm="Close it"
      said="The page is closed."
    >
      The code on every sheet printed so far will lead nowhere. The next sheet gets a new one.
    </ConfirmButton>
  )
}
