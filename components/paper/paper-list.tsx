'use client'

import type { ReactNode } from 'react'
import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { Choice } from '@/components/ui/select'
import { formatCode } from '@/lib/domain/label/code'
import { sayPaper } from '@/lib/domain/paper/paper'
import {
  archiveOriginPaperAction,
  archiveSalePaperAction,
  recordOriginPaperAction,
  recordSalePaperAction,
} from '@/lib/features/paper/actions'
import { originPaperSchema, type PaperRow, salePaperSchema } from '@/lib/features/paper/schema'
import { PaperFields } from './paper-fields'

type ListProps = { workspace: string; papers: PaperRow[]; today: string; mayWrite: boolean }

/** The papers that came with an animal or an egg case. */
export function OriginPapers({
  subject,
  id,
  ...list
}: ListProps & { subject: 'individual' | 'egg_case'; id: string }) {
  return (
    <Papers
      {...list}
      empty="None came with it, as far as it was recorded."
      archive={archiveOriginPaperAction}
    >
      {(close) => (
        <RecordForm
          name={`paper-${id}`}
          schema={originPaperSchema}
          action={recordOriginPaperAction}
          workspace={list.workspace}
          defaultValues={{ subject, id }}
          onDone={close}
          submitLabel="Record it"
        >
          <PaperFields />
        </RecordForm>
      )}
    </Papers>
  )
}

/** The papers that were handed over with a receipt; `lines`: the animals and egg cases on it. */
export function SalePapers({ sale, lines, ...list }: ListProps & { sale: string; lines: Choice[] }) {
  return (
    <Papers {...list} empty="None went with it, as far as it was recorded." archive={archiveSalePaperAction}>
      {(close) => (
        <RecordForm
          name={`paper-${sale}`}
          schema={salePaperSchema}
          action={recordSalePaperAction}
          workspace={list.workspace}
          defaultValues={{ sale }}
          onDone={close}
          submitLabel="Record it"
        >
          <PaperFields />
          {lines.length > 0 ? (
            <FormSelect name="line" label="For" choices={lines} placeholder="the whole receipt" isOptional />
          ) : null}
        </RecordForm>
      )}
    </Papers>
  )
}

type PapersProps = ListProps & {
  empty: string
  archive: typeof archiveSalePaperAction
  children: (close: () => void) => ReactNode
}

function Papers({ workspace, papers, today, mayWrite, empty, archive, children }: PapersProps) {
  const done = useDone()
  if (papers.length === 0 && !mayWrite) return null
  return (
    <section>
      <h2>Papers</h2>
      {papers.length === 0 ? <p className="mt-2 text-small text-soft">{empty}</p> : null}
      <ul className="mt-2 divide-y divide-line">
        {papers.map((paper) => (
          <li key={paper.id} className="flex flex-wrap items-center justify-between gap-x-4">
            <span>
              {paper.label === '' ? '' : `${formatCode(paper.label)}: `}
              {sayPaper(paper, today)}
            </span>
            {mayWrite ? (
              <ActionButton
                action={archive}
                workspace={workspace}
                input={{ paper: paper.id, version: paper.version }}
                kind="quiet"
                onDone={() => done('The paper is taken back.')}
              >
                Take it back
              </ActionButton>
            ) : null}
          </li>
        ))}
      </ul>
      {mayWrite ? (
        <div className="no-print mt-2">
          <DialogButton label="Record a paper" kind="quiet" title="Record a paper" className="-ms-4">
            {({ close }) =>
              children(() => {
                close()
                done('Recorded.')
              })
            }
          </DialogButton>
        </div>
      ) : null}
    </section>
  )
}
