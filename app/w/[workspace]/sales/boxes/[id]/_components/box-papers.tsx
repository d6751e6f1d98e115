'use client'

import { useState } from 'react'
import { useDevicePaper } from '@/components/care-sheet/device-paper'
import { printFile } from '@/components/care-sheet/print-file'
import { Button } from '@/components/ui/button'
import { ActionButton } from '@/components/ui/form/action-button'
import { showToast } from '@/components/ui/toast'
import { printBoxPapersAction } from '@/lib/features/show-box/actions'

type Props = { workspace: string; box: string; files: number }

/** Tags, stand cards and sheets in one print job; a large box is printed in a few, one after another. */
export function BoxPapers({ workspace, box, files }: Props) {
  const { paper } = useDevicePaper()
  const [next, setNext] = useState<number>()
  const print = (file: number) => {
    const query = new URLSearchParams({ file: String(file), ...(paper ? { paper } : {}) })
    printFile(`/w/${workspace}/sales/boxes/${box}/papers.pdf?${query}`)
    setNext(file < files ? file + 1 : undefined)
  }
  return (
    <div className="flex flex-wrap gap-3">
      <ActionButton
        action={printBoxPapersAction}
        workspace={workspace}
        input={{ box, ...(paper ? { paper } : {}) }}
        kind="filled"
        onDone={({ sheets }) => {
          showToast({ what: `Tags, cards and ${sheets} sheets go to the printer.` })
          print(1)
        }}
      >
        Print tags, cards and sheets
      </ActionButton>
      {next === undefined ? null : (
        <Button onClick={() => print(next)}>
          Print part {next} of {files}
        </Button>
      )}
    </div>
  )
}
