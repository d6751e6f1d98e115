'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordMarkAction } from '@/lib/features/culture/actions'

const WORDS = {
  mites: { do: 'Mites', undo: 'No mites after all' },
  mould: { do: 'Mould', undo: 'No mould after all' },
  crash: { do: 'Crashed', undo: 'Not crashed after all' },
}

type Props = {
  workspace: string
  culture: string
  label: string
  today: string
  mark: keyof typeof WORDS
  isMarked?: boolean
}

/** One tap marks the jar; what follows for its neighbours is said at once. */
export function MarkJar({ workspace, culture, label, today, mark, isMarked = false }: Props) {
  const done = useDone()
  return (
    <ActionButton
      action={recordMarkAction}
      workspace={workspace}
      input={{ culture, mark, on: today, isTakenBack: isMarked }}
      kind={isMarked ? 'quiet' : 'plain'}
      onDone={({ suspects }) => done(sayDone({ label, mark, isMarked, suspects }))}
    >
      {isMarked ? WORDS[mark].undo : WORDS[mark].do}
      <span className="sr-only"> in {label}</span>
    </ActionButton>
  )
}

function sayDone(told: { label: string; mark: keyof typeof WORDS; isMarked: boolean; suspects: string[] }) {
  const { label, mark, isMarked, suspects } = told
  if (isMarked) return `${label}: ${WORDS[mark].undo.toLowerCase()}.`
  if (mark !== 'mites') return `${label}: marked.`
  const others = suspects.filter((suspect) => suspect !== label)
  if (others.length === 0) return `${label} is marked. No other jar stood on its shelf.`
  return `${label} is marked. Suspect for 30 days: ${others.join(', ')}.`
}
