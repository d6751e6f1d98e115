'use client'

import { PrintRunLabels } from '../label/print-run-labels'
import { DialogButton } from '../ui/dialog'
import { printFile } from './print-file'

/** Labels of the chosen animals, for the paper in the printer beside this device. */
export function LabelDialog({ workspace, individuals }: { workspace: string; individuals: string[] }) {
  const count = individuals.length
  return (
    <DialogButton label="Labels" title={count === 1 ? 'One label' : `${count} labels`}>
      <PrintRunLabels
        href={`/w/${workspace}/individuals/labels.pdf?ids=${individuals.join(',')}`}
        count={count}
        onPrint={printFile}
      />
    </DialogButton>
  )
}
