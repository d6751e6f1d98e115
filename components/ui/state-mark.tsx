import { clsx } from 'clsx'
import type { ReactNode } from 'react'

export type State = 'late' | 'due' | 'leave-alone' | 'fine'

const WORD: Record<State, string> = { late: 'late', due: 'due', 'leave-alone': 'leave alone', fine: 'fine' }

const INK: Record<State, string> = {
  late: 'text-hand',
  due: 'text-hand',
  'leave-alone': 'text-hush',
  fine: 'text-fine',
}

/** Filled square, open triangle, half-filled circle, open circle: told apart without any colour. */
const SHAPE: Record<State, ReactNode> = {
  late: <path d="M3 3h14v14H3z" fill="currentColor" />,
  due: <path d="M10 2.5 18.5 17.5h-17z" fill="none" stroke="currentColor" strokeWidth="2" />,
  'leave-alone': (
    <>
      <circle cx="10" cy="10" r="7.5" fill="none" stroke="currentColor" strokeWidth="2" />
      <path d="M10 2.5a7.5 7.5 0 0 1 0 15z" fill="currentColor" />
    </>
  ),
  fine: <circle cx="10" cy="10" r="7.5" fill="none" stroke="currentColor" strokeWidth="2" />,
}

type Props = {
  state: State
  /** What is said instead of the plain word: "late since Monday". */
  word?: ReactNode
  /** In a list whose title says it already, the word is for those who do not see the shape. */
  isWordHidden?: boolean
}

export function StateMark({ state, word, isWordHidden = false }: Props) {
  return (
    <span className={clsx('inline-flex items-baseline gap-2', INK[state])}>
      <svg viewBox="0 0 20 20" className="size-5 shrink-0 self-center" aria-hidden="true">
        {SHAPE[state]}
      </svg>
      <span className={isWordHidden ? 'sr-only' : 'font-semibold text-small'}>{word ?? WORD[state]}</span>
    </span>
  )
}

/** The shape alone, inside a drawing. Its word has to stand in the table of the picture. */
export function StateShape({
  state,
  box,
}: {
  state: State
  box: { left: number; top: number; size: number }
}) {
  return (
    <svg
      x={box.left}
      y={box.top}
      width={box.size}
      height={box.size}
      viewBox="0 0 20 20"
      className={INK[state]}
      aria-hidden="true"
    >
      {SHAPE[state]}
    </svg>
  )
}
