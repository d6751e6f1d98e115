'use client'

import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { StateMark } from '@/components/ui/state-mark'
import { writeMoney } from '@/lib/domain/money/money'
import { boxMoreAction, endBoxedAnimalAction } from '@/lib/features/show-box/actions'
import type { ShowBoxPage } from '@/lib/features/show-box/loaders'
import { boxMoreSchema } from '@/lib/features/show-box/schema'

type Props = { workspace: string; page: ShowBoxPage }
type Row = ShowBoxPage['animals'][number]

export function BoxedAnimals({ workspace, page }: Props) {
  const done = useDone()
  const { box, currency, maySell } = page
  const shown = page.animals.filter(({ end }) => end !== 'left_out')
  const columns: Column<Row>[] = [
    {
      head: 'Animal',
      isRowHead: true,
      cell: ({ id, label }) => (
        <Link href={`/w/${workspace}/individuals/${id}`} className="inline-block py-1 tabular-nums">
          {label}
        </Link>
      ),
    },
    { head: 'What', cell: ({ description }) => description },
    { head: 'Part', cell: ({ part }) => box.parts.find(({ number }) => number === part)?.series ?? '' },
    {
      head: 'Price',
      isFigure: true,
      cell: ({ priceMinor }) => (priceMinor === null ? '' : writeMoney(priceMinor, currency, 'en')),
    },
    { head: 'State', cell: (row) => <BoxedState row={row} /> },
    ...(maySell && !box.settledOn
      ? [
          {
            head: 'Stays at home',
            cell: ({ id, end, label }: Row) =>
              end === null ? (
                <ActionButton
                  kind="quiet"
                  action={endBoxedAnimalAction}
                  workspace={workspace}
                  input={{ box: box.id, version: box.version, individual: id }}
                  onDone={() => done(`${label} stays at home.`)}
                >
                  Take it out
                </ActionButton>
              ) : null,
          },
        ]
      : []),
  ]
  return (
    <section aria-labelledby="inside">
      <h2 id="inside">Animals</h2>
      <DataTable caption="Animals of the box" columns={columns} rows={shown} rowKey={({ id }) => id} />
    </section>
  )
}

function BoxedState({ row: { end, whereabouts, receipt, against } }: { row: Row }) {
  if (end === 'sold' || whereabouts === 'sold')
    return <StateMark state="fine" word={receipt ? `sold, receipt ${receipt}` : 'sold'} />
  if (end === 'home') return <StateMark state="fine" word="came home" />
  if (end === 'missing') return <StateMark state="late" word="missing" />
  if (whereabouts !== 'single') return <StateMark state="late" word="not here any more" />
  if (against === null) return <StateMark state="fine" word="may travel" />
  return (
    <>
      <StateMark state="leave-alone" word="better stays" />
      <span className="block text-small">{against}</span>
    </>
  )
}

/** Whoever was not chosen and goes all the same. */
export function PutMoreIn({ workspace, page }: Props) {
  const done = useDone()
  const { box } = page
  return (
    <details>
      <summary className="target cursor-pointer py-3">Put more animals in</summary>
      <RecordForm
        key={box.version}
        name="box-more"
        schema={boxMoreSchema}
        action={boxMoreAction}
        workspace={workspace}
        defaultValues={{ box: box.id, version: box.version, labels: '' }}
        onDone={() => done('They are in the box.')}
        submitLabel="Put them in"
        submitKind="plain"
      >
        <FormTextArea
          name="labels"
          label="Labels"
          rows={3}
          hint="Typed or scanned, one after another. A device that has opened its part already has to bring it up to date."
        />
      </RecordForm>
    </details>
  )
}
