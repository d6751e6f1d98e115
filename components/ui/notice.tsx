import { clsx } from 'clsx'
import type { ReactNode, Ref } from 'react'
import { type State, StateMark } from './state-mark'

type Props = {
  state: State
  /** What happened. */
  what: ReactNode
  /** Why. */
  why?: ReactNode
  /** What to do next: words, a button, both. */
  next?: ReactNode
  /** Read out as soon as it appears. For what follows a person's own action. */
  isAnnounced?: boolean
  ref?: Ref<HTMLDivElement>
}

const RULE: Record<State, string> = {
  late: 'border-hand',
  due: 'border-hand',
  'leave-alone': 'border-hush',
  fine: 'border-fine',
}

/** What happened, why, and what to do next: the three every message owes. */
export function Notice({ state, what, why, next, isAnnounced = false, ref }: Props) {
  return (
    <div
      ref={ref}
      tabIndex={-1}
      role={isAnnounced ? 'alert' : undefined}
      className={clsx('flex gap-3 border-s-4 bg-sheet px-4 py-3', RULE[state])}
    >
      <span className="mt-0.5">
        <StateMark state={state} isWordHidden />
      </span>
      <div className="min-w-0 flex-1">
        <p className="font-semibold">{what}</p>
        {why ? <div className="text-small text-soft">{why}</div> : null}
        {next ? <div className="mt-2 flex flex-wrap items-center gap-2 text-small">{next}</div> : null}
      </div>
    </div>
  )
}
