'use client'

import { printFile } from '@/components/care-sheet/print-file'
import { Button } from '@/components/ui/button'
import type { SheetBatchRow } from '@/lib/features/sheet-batch/data'
import { SetAgain } from './set-again'

/** The finished files, each to be printed in one go. */
export function BatchFiles({ workspace, batch }: { workspace: string; batch: SheetBatchRow }) {
  if (batch.files.length === 0) return null
  const isOne = batch.files.length === 1
  return (
    <section className="mt-8 max-w-xl">
      <h2>{isOne ? 'The file' : 'The files'}</h2>
      <ul className="mt-3 divide-y divide-line border-line border-y">
        {batch.files.map(({ number, sheets, isKept }) => {
          const address = `/w/${workspace}/sheet-batches/${batch.id}/files/${number}.pdf`
          return (
            <li key={number} className="flex flex-wrap items-center justify-between gap-3 py-3">
              <span>
                {isOne ? '' : `File ${number}: `}
                {sheets === 1 ? 'one sheet' : `${sheets} sheets`}
              </span>
              {isKept ? (
                <span className="flex flex-wrap items-center gap-3">
                  <a href={address} target="_blank" rel="noreferrer" className="py-2.5">
                    Look at it
                  </a>
                  <Button kind={isOne ? 'filled' : 'plain'} onClick={() => printFile(address)}>
                    Print
                  </Button>
                </span>
              ) : (
                <span className="flex flex-wrap items-center gap-3 text-small text-soft">
                  Files are kept for three days.
                  <SetAgain workspace={workspace} batch={batch.id} label="Set it again" kind="quiet" />
                </span>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
