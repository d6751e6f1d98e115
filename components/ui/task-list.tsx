import type { ReactNode } from 'react'
import { type State, StateMark } from './state-mark'

export function TaskList({ label, children }: { label: string; children: ReactNode }) {
  return (
    <ul aria-label={label} className="divide-y divide-line">
      {children}
    </ul>
  )
}

type TaskProps = {
  state: State
  title: ReactNode
  /** A sentence a colleague would say, with the number in it. */
  reason?: ReactNode
  /** One action, done in place. */
  action?: ReactNode
}

export function Task({ state, title, reason, action }: TaskProps) {
  return (
    <li className="flex flex-wrap items-center gap-x-4 gap-y-2 py-3.5">
      <span className="flex w-6 shrink-0 justify-center self-start pt-0.5">
        <StateMark state={state} isWordHidden />
      </span>
      <div className="min-w-0 flex-1 basis-56">
        <p className="font-semibold">{title}</p>
        {reason ? <p className="text-small text-soft">{reason}</p> : null}
      </div>
      {action ? <div className="no-print ms-10 flex-none desk:ms-0">{action}</div> : null}
    </li>
  )
}
