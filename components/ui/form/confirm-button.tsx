'use client'

import type { ReactNode } from 'react'
import { DialogButton } from '../dialog'
import { ActionButton } from './action-button'
import { useDone } from './use-done'
import type { Action } from './use-sending'

type Props = {
  /** On the button that asks. */
  label: string
  title: string
  /** What it means, before it is done. */
  children: ReactNode
  action: Action<unknown>
  workspace: string
  input: unknown
  /** On the button that does it. */
  confirm: string
  /** Told afterwards. */
  said: string
}

/** One action that is asked about first. */
export function ConfirmButton({ label, title, children, confirm, said, ...send }: Props) {
  const done = useDone()
  return (
    <DialogButton label={label} kind="quiet" title={title}>
      {({ close }) => (
        <div className="space-y-4">
          <p>{children}</p>
          <ActionButton
            {...send}
            kind="filled"
            onDone={() => {
              close()
              done(said)
            }}
          >
            {confirm}
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
