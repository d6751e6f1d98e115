'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { FormNumber, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { Notice } from '@/components/ui/notice'
import { settleBoxAction } from '@/lib/features/show-box/actions'
import type { ShowBoxPage } from '@/lib/features/show-box/loaders'
import { type BoxSettled, settleBoxSchema } from '@/lib/features/show-box/schema'

type Box = ShowBoxPage['box']
type Props = { workspace: string; box: Box; items: Box['items'] }

/** One scan of every cup that stands here again; the rest follows from the receipts. */
export function SettleBox({ workspace, box: { id: box, version, settledOn }, items }: Props) {
  const router = useRouter()
  const [said, setSaid] = useState<BoxSettled>()
  return (
    <section aria-labelledby="settle" className="space-y-4">
      <h2 id="settle">{settledOn !== null ? 'Scan what turned up' : 'Back home'}</h2>
      {said ? <Settled said={said} /> : null}
      <RecordForm
        key={version}
        name="settle-box"
        schema={settleBoxSchema}
        action={settleBoxAction}
        workspace={workspace}
        defaultValues={{ box, version, labels: '', counts: items.map(({ number }) => ({ item: number })) }}
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
        {items.map(({ number, description, packed, sold }, index) => (
          <FormNumber
            key={number}
            name={`counts.${index}.home`}
            label={`${description}: how many came home`}
            hint={`${packed} packed, ${sold} on receipts so far. Left empty: not counted.`}
            isWhole
            isOptional
            className="max-w-24"
          />
        ))}
      </RecordForm>
    </section>
  )
}

function Settled({ said: { home, sold, missing, puzzles, things } }: { said: BoxSettled }) {
  return (
    <div className="space-y-3">
      <Notice
        state={missing.length > 0 ? 'late' : 'fine'}
        isAnnounced
        what={`${home} came home, ${sold} ${sold === 1 ? 'was' : 'were'} sold${missing.length > 0 ? `, ${missing.length} missing` : ''}.`}
        why={missing.length > 0 ? missing.join(', ') : undefined}
      />
      {things.missing.map(({ description, count }) => (
        <Notice
          key={`missing ${description}`}
          state="late"
          what={`${count} × ${description} missing.`}
          why="Neither at home nor on a receipt. They stay in the stock until somebody counts it anew: a receipt may still be on its way."
        />
      ))}
      {things.over.map(({ description, count }) => (
        <Notice
          key={`over ${description}`}
          state="due"
          what={`${count} × ${description} more than packed.`}
          why="Sold or brought home beyond what was packed. Count the stock."
        />
      ))}
      {puzzles.map(({ label, why }) => (
        <Notice key={label} state="due" what={`${label} was scanned.`} why={why} />
      ))}
    </div>
  )
}
