'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { Notice } from '@/components/ui/notice'
import { settleBoxAction } from '@/lib/features/show-box/actions'
import { type BoxSettled, settleBoxSchema } from '@/lib/features/show-box/schema'

type Props = { workspace: string; box: string; version: number; isAgain: boolean }

/** One scan of every cup that stands here again; the rest follows from the receipts. */
export function SettleBox({ workspace, box, version, isAgain }: Props) {
  const router = useRouter()
  const [said, setSaid] = useState<BoxSettled>()
  return (
    <section aria-labelledby="settle" className="space-y-4">
      <h2 id="settle">{isAgain ? 'Scan what turned up' : 'Back home'}</h2>
      {said ? <Settled said={said} /> : null}
      <RecordForm
        key={version}
        name="settle-box"
        schema={settleBoxSchema}
        action={settleBoxAction}
        workspace={workspace}
        defaultValues={{ box, version, labels: '' }}
        onDone={(settled) => {
          setSaid(settled)
          router.refresh()
        }}
        submitLabel="Settle the box"
      >
        <FormTextArea
          name="labels"
          label="Labels of every cup that came home"
          rows={6}
          hint="With a hand scanner one after another into this field. Let the devices send their receipts first: who is neither scanned nor on a receipt counts as missing."
        />
      </RecordForm>
    </section>
  )
}

function Settled({ said: { home, sold, missing, puzzles } }: { said: BoxSettled }) {
  return (
    <div className="space-y-3">
      <Notice
        state={missing.length > 0 ? 'late' : 'fine'}
        isAnnounced
        what={`${home} came home, ${sold} ${sold === 1 ? 'was' : 'were'} sold${missing.length > 0 ? `, ${missing.length} missing` : ''}.`}
        why={missing.length > 0 ? missing.join(', ') : undefined}
      />
      {puzzles.map(({ label, why }) => (
        <Notice key={label} state="due" what={`${label} was scanned.`} why={why} />
      ))}
    </div>
  )
}
