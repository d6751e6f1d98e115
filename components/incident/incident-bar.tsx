'use client'

import Link from 'next/link'
import { StateMark } from '@/components/ui/state-mark'
import { TakeIncident } from './take-incident'
import { useAlarms } from './use-alarms'

type Props = { workspace: string; mayTake: boolean }

/** What nobody has taken yet: on every open page, until somebody says that they look after it. */
export function IncidentBar({ workspace, mayTake }: Props) {
  const { alarms, isCutOff, ask } = useAlarms(workspace)
  return (
    <div role="alert" className="no-print sticky top-0 z-20">
      {isCutOff ? (
        <p className="border-line border-b bg-sheet px-4 py-2 text-small text-soft desk:px-[34px]">
          No answer from the service: this page cannot tell whether a zone is too hot or too cold.
        </p>
      ) : null}
      {alarms.map(({ id, said, span, kind }) => (
        <div
          key={id}
          className="flex flex-wrap items-center gap-x-4 gap-y-1 border-hand border-b-2 bg-sheet px-4 py-2 desk:px-[34px]"
        >
          <StateMark state={kind === 'silent' ? 'due' : 'late'} word={said} />
          <span className="text-small text-soft">{span}</span>
          <span className="ms-auto flex flex-wrap items-center gap-x-3">
            <Link
              href={`/w/${workspace}/incidents/${id}`}
              prefetch={false}
              className="target inline-flex items-center text-small"
            >
              What to do
            </Link>
            {mayTake ? <TakeIncident workspace={workspace} id={id} onDone={ask} /> : null}
          </span>
        </div>
      ))}
    </div>
  )
}
