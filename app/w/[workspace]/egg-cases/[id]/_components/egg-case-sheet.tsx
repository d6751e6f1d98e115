'use client'

import { useDevicePaper } from '@/components/care-sheet/device-paper'
import { printFile } from '@/components/care-sheet/print-file'
import { SheetFields } from '@/components/care-sheet/sheet-fields'
import { DialogButton } from '@/components/ui/dialog'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createEggCaseSheetAction } from '@/lib/features/egg-case-sheet/actions'
import { newEggCaseSheetSchema } from '@/lib/features/egg-case-sheet/schema'

/** Prints what whoever takes the egg case home has to know. */
export function EggCaseSheet({ workspace, eggCase }: { workspace: string; eggCase: string }) {
  const done = useDone()
  const { paper, choosePaper } = useDevicePaper()
  return (
    <DialogButton label="Care sheet" title="Care sheet">
      {({ close }) => (
        <RecordForm
          name="egg-case-sheet"
          schema={newEggCaseSheetSchema}
          action={createEggCaseSheetAction}
          workspace={workspace}
          defaultValues={{ eggCase, paper: paper ?? '', language: '', note: '' }}
          onDone={(sheet) => {
            close()
            choosePaper(sheet.paper)
            done('The sheet goes to the printer.')
            const query = `paper=${sheet.paper}&language=${sheet.language}`
            printFile(`/w/${workspace}/egg-cases/${sheet.eggCase}/care-sheet.pdf?${query}`)
          }}
          submitLabel="Print it"
        >
          <SheetFields />
        </RecordForm>
      )}
    </DialogButton>
  )
}
