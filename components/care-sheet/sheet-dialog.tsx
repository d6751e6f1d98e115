'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { createCareSheetsAction } from '@/lib/features/care-sheet/actions'
import { newCareSheetsSchema } from '@/lib/features/care-sheet/schema'
import { createSheetBatchAction } from '@/lib/features/sheet-batch/actions'
import { newSheetBatchSchema } from '@/lib/features/sheet-batch/schema'
import { useDevicePaper } from './device-paper'
import { printFile } from './print-file'
import { SheetFields } from './sheet-fields'

type Props = { workspace: string; individuals: string[]; onDone?: () => void }

/** Prints the sheet of one animal, or the one sheet of several that go home together. */
export function SheetDialog({ workspace, individuals, onDone }: Props) {
  const done = useDone()
  const { paper, choosePaper } = useDevicePaper()
  const isLot = individuals.length > 1
  return (
    <DialogButton
      label={isLot ? 'One sheet for all' : 'Care sheet'}
      title={isLot ? `One sheet for ${individuals.length} animals` : 'Care sheet'}
    >
      {({ close }) => (
        <RecordForm
          name="care-sheet"
          schema={newCareSheetsSchema}
          action={createCareSheetsAction}
          workspace={workspace}
          defaultValues={{ individuals, together: isLot, paper: paper ?? '', language: '', note: '' }}
          onDone={([sheet]) => {
            close()
            onDone?.()
            if (!sheet) return
            rememberPaper(choosePaper, sheet.paper)
            done('The sheet goes to the printer.')
            const of = sheet.lot ? `sheet-lots/${sheet.lot}` : `individuals/${sheet.individual}`
            printFile(`/w/${workspace}/${of}/care-sheet.pdf?paper=${sheet.paper}&language=${sheet.language}`)
          }}
          submitLabel="Print it"
        >
          {isLot ? (
            <p className="text-small text-soft">
              For a pair or a lot of one species: every window of them, prey for the smallest.
            </p>
          ) : null}
          <SheetFields />
        </RecordForm>
      )}
    </DialogButton>
  )
}

/** Asks for a sheet of each; a job sets them, and its page tells how far it is. */
export function SheetBatchDialog({ workspace, individuals, onDone }: Props) {
  const router = useRouter()
  const { paper, choosePaper } = useDevicePaper()
  return (
    <DialogButton label="A sheet of each" title={`${individuals.length} care sheets`}>
      {({ close }) => (
        <RecordForm
          name="sheet-batch"
          schema={newSheetBatchSchema}
          action={createSheetBatchAction}
          workspace={workspace}
          defaultValues={{ individuals, paper: paper ?? '', language: '', note: '' }}
          onDone={({ id, paper: chosen }) => {
            close()
            onDone?.()
            rememberPaper(choosePaper, chosen)
            router.push(`/w/${workspace}/sheet-batches/${id}`)
          }}
          submitLabel="Set them"
        >
          <SheetFields />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function rememberPaper(choosePaper: ReturnType<typeof useDevicePaper>['choosePaper'], paper: string): void {
  choosePaper(PAPERS.find((known) => known === paper) ?? null)
}
