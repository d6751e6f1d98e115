'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { updateKeptAction } from '@/lib/features/prey/actions'

type Props = { workspace: string; line: { slug: string; name: string; version: number; kept: boolean } }

export function KeepLine({ workspace, line }: Props) {
  const done = useDone()
  const { slug, name, version, kept } = line
  return (
    <ActionButton
      kind="quiet"
      action={updateKeptAction}
      workspace={workspace}
      input={{ line: slug, version, kept: !kept }}
      onDone={() => done(kept ? `${name} is no longer planned with.` : `${name} is planned with.`)}
    >
      {kept ? 'Do not plan with it' : 'Plan with it'}
      <span className="sr-only">: {name}</span>
    </ActionButton>
  )
}
