import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import type { SalesPage } from '@/lib/features/sale/loaders'

type Row = SalesPage['items'][number]

export function SalesTable({ workspace, page }: { workspace: string; page: SalesPage }) {
  const columns: Column<Row>[] = [
    {
      head: 'Receipt',
      isRowHead: true,
      cell: ({ id, ...number }) => (
        <Link href={`/w/${workspace}/sales/${id}`} className="inline-block py-1 tabular-nums">
          {writeReceiptNumber(number)}
        </Link>
      ),
    },
    { head: 'On', cell: ({ on }) => writeDay(on, page.today) },
    { head: 'What', cell: ({ lines }) => lines.map(nameOfLine).join(', ') },
    { head: 'By', cell: ({ seller }) => seller ?? '' },
    {
      head: 'Total',
      isFigure: true,
      cell: ({ total, reversal }) => (
        <span className={reversal ? 'line-through' : undefined}>
          {writeMoney(total.amount, total.currency, 'en')}
        </span>
      ),
    },
    {
      head: 'State',
      cell: ({ reversal, returns }) => sayState({ reversal, returns }, page.today),
    },
  ]
  return <DataTable caption="Receipts" columns={columns} rows={page.items} rowKey={({ id }) => id} />
}

function nameOfLine({ label, description, quantity }: Row['lines'][number]): string {
  if (label) return formatCode(label)
  return quantity > 1 ? `${quantity} × ${description}` : description
}

function sayState({ reversal, returns }: Pick<Row, 'reversal' | 'returns'>, today: string): string {
  if (reversal) return `taken back ${writeDay(reversal.on, today)}`
  return returns.length > 0 ? 'some of it came back' : ''
}
