'use client'

import { useState } from 'react'
import { Button } from '@/components/ui/button'
import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { formatCode } from '@/lib/domain/label/code'
import { takeFromTrayAction } from '@/lib/features/tray/actions'
import type { TrayPage } from '@/lib/features/tray/loaders'
import { trayTakingFormSchema } from '@/lib/features/tray/schema'

type Taken = { id: string; label: string }

/** Whoever is needed by itself becomes somebody: with the label that its cup gets now. */
export function TakeOut({ workspace, page }: { workspace: string; page: TrayPage }) {
  return (
    <DialogButton label="Take out" title={`Take out of ${page.tray.label}`} place="sheet">
      {({ close }) => <TakeOutForm workspace={workspace} page={page} onClose={close} />}
    </DialogButton>
  )
}

function TakeOutForm({
  workspace,
  page,
  onClose,
}: {
  workspace: string
  page: TrayPage
  onClose: () => void
}) {
  const done = useDone()
  const [taken, setTaken] = useState<readonly Taken[]>()
  const { tray, count, stages } = page
  if (taken)
    return (
      <div className="space-y-4">
        <p>Put these labels on the cups you took:</p>
        <ul className="divide-y divide-line border-line border-y">
          {taken.map(({ id, label }) => (
            <li key={id} className="flex items-center justify-between gap-4 py-1">
              <strong>{formatCode(label)}</strong>
              <a
                href={`/w/${workspace}/individuals/${id}/label.pdf`}
                className="target inline-flex items-center underline underline-offset-4"
              >
                Print<span className="sr-only"> the label of {formatCode(label)}</span>
              </a>
            </li>
          ))}
        </ul>
        <Button
          kind="filled"
          onClick={() => {
            onClose()
            done(
              taken.length === 1
                ? 'One animal stands by itself now.'
                : `${taken.length} stand by themselves now.`,
            )
          }}
        >
          Done
        </Button>
      </div>
    )
  return (
    <RecordForm
      name={`tray-taking-${tray.id}`}
      schema={trayTakingFormSchema}
      action={takeFromTrayAction}
      workspace={workspace}
      defaultValues={{ tray: tray.id, count: 1, moults: '' }}
      onDone={({ individuals }) => setTaken(individuals)}
      submitLabel="Take them out"
    >
      <FormNumber name="count" label="How many" isWhole hint={`Of ${count}.`} />
      {stages.length > 1 ? (
        <FormSelect
          name="moults"
          label="Instar"
          placeholder="Whichever"
          choices={stages.map(({ moults, label, count: there }) => ({
            value: String(moults),
            label: `${label} (${there})`,
          }))}
        />
      ) : null}
    </RecordForm>
  )
}
