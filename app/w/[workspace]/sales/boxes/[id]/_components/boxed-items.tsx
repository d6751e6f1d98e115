'use client'

import { StockItemFields } from '@/components/stock/stock-item-fields'
import { type Column, DataTable } from '@/components/ui/data-table'
import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { StateMark } from '@/components/ui/state-mark'
import { writeMoney } from '@/lib/domain/money/money'
import { packItemAction, unpackItemAction } from '@/lib/features/box-item/actions'
import { packItemFormSchema } from '@/lib/features/box-item/schema'
import type { ShowBoxPage } from '@/lib/features/show-box/loaders'

type Props = { workspace: string; page: ShowBoxPage }
type Row = ShowBoxPage['box']['items'][number]

/** Cups, jars, food: what lies in the box besides animals, and how many of it are on receipts. */
export function BoxedItems({ workspace, page }: Props) {
  const done = useDone()
  const { box, currency, maySell } = page
  const shown = box.items.filter(({ isOut, sold }) => !isOut || sold > 0)
  const columns: Column<Row>[] = [
    { head: 'What', isRowHead: true, cell: ({ description }) => description },
    { head: 'Part', cell: ({ part }) => box.parts.find(({ number }) => number === part)?.series ?? '' },
    { head: 'Price', isFigure: true, cell: ({ priceMinor }) => writeMoney(priceMinor, currency, 'en') },
    { head: 'Packed', isFigure: true, cell: ({ packed }) => packed },
    { head: 'Sold', isFigure: true, cell: ({ sold }) => sold },
    { head: 'Came home', isFigure: true, cell: ({ home }) => home ?? '' },
    { head: 'State', cell: (row) => <ItemState row={row} /> },
    ...(maySell && !box.settledOn
      ? [
          {
            head: 'Stays at home',
            cell: ({ number, isOut, description }: Row) =>
              isOut ? null : (
                <ActionButton
                  kind="quiet"
                  action={unpackItemAction}
                  workspace={workspace}
                  input={{ box: box.id, version: box.version, number }}
                  onDone={() => done(`${description} stays at home.`)}
                >
                  Take it out
                </ActionButton>
              ),
          },
        ]
      : []),
  ]
  return (
    <section aria-labelledby="things">
      <h2 id="things">Besides animals</h2>
      {shown.length > 0 ? (
        <DataTable
          caption="Things of the box besides animals"
          columns={columns}
          rows={shown}
          rowKey={({ number }) => String(number)}
        />
      ) : null}
      {maySell && !box.settledOn ? <PutItemIn workspace={workspace} page={page} /> : null}
    </section>
  )
}

function ItemState({ row: { packed, sold, home } }: { row: Row }) {
  if (sold > packed) return <StateMark state="late" word={`${sold - packed} more sold than packed`} />
  if (home === null) return <StateMark state="fine" word={`${packed - sold} should be there`} />
  const missing = packed - sold - home
  if (missing > 0) return <StateMark state="late" word={`${missing} missing`} />
  return missing < 0 ? (
    <StateMark state="due" word={`${-missing} more than packed`} />
  ) : (
    <StateMark state="fine" word="accounted for" />
  )
}

function PutItemIn({ workspace, page: { box, choices, currency } }: Props) {
  const done = useDone()
  const parts = box.parts.map(({ number, series }) => ({ value: String(number), label: `Part ${series}` }))
  return (
    <div className="no-print mt-3">
      <DialogButton label="Put something else in" kind="plain" title="Into the box, besides animals">
        {({ close }) => (
          <RecordForm
            key={box.version}
            name="box-item"
            schema={packItemFormSchema}
            action={packItemAction}
            workspace={workspace}
            defaultValues={{ box: box.id, version: box.version, part: parts[0]?.value, quantity: 1 }}
            onDone={() => {
              close()
              done('It is in the box.')
            }}
            submitLabel="Put it in"
          >
            <StockItemFields items={choices} currency={currency} />
            {parts.length > 1 ? <FormSelect name="part" label="Which part" choices={parts} /> : null}
            <p className="text-small text-soft">
              It leaves the stock when a receipt of it arrives. A device that has opened its part already has
              to bring it up to date.
            </p>
          </RecordForm>
        )}
      </DialogButton>
    </div>
  )
}
