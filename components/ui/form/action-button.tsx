'use client'

import type { ReactNode } from 'react'
import { Button } from '../button'
import type { ButtonStyle } from '../button-style'
import { showToast } from '../toast'
import { OutcomeNotice } from './outcome-notice'
import type { Action } from './use-sending'
import { useSending } from './use-sending'

type Props<T> = {
  action: Action<T>
  workspace: string
  input: unknown
  children: ReactNode
  kind?: ButtonStyle['kind']
  onDone?: (value: T) => void
}

/** One action done in place, without a form: the same cases, the same safety against a second touch. */
export function ActionButton<T>({ action, workspace, input, children, kind, onDone }: Props<T>) {
  const { send, isSending, outcome } = useSending<T>({ action, workspace })
  async function act() {
    const sent = await send(input)
    if (sent?.result?.status !== 'done') return
    for (const warning of sent.result.warnings ?? []) showToast({ what: warning.message })
    onDone?.(sent.result.value)
  }
  return (
    <div className="space-y-2">
      <Button kind={kind} isBusy={isSending} onClick={act}>
        {children}
      </Button>
      <OutcomeNotice outcome={outcome} onRetry={act} onReload={() => window.location.reload()} />
    </div>
  )
}
