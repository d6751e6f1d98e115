import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { StateMark } from '@/components/ui/state-mark'
import type { BuyersPage } from '@/lib/features/buyer/loaders'

type Row = BuyersPage['items'][number]

const EXPERIENCE_WORDS: Record<Row['experience'], string> = {
  unknown: '',
  beginner: 'beginner',
  experienced: 'experienced',
}

export function BuyersTable({ workspace, page }: { workspace: string; page: BuyersPage }) {
  const columns: Column<Row>[] = [
    {
      head: 'Name',
      isRowHead: true,
      cell: ({ id, name }) => (
        <Link href={`/w/${workspace}/sales/buyers/${id}`} className="inline-block py-1">
          {name}
        </Link>
      ),
    },
    { head: 'Reached by', cell: ({ email, phone }) => email || phone },
    { head: 'Country', cell: ({ country }) => country },
    { head: 'Keeps', cell: ({ experience }) => EXPERIENCE_WORDS[experience] },
    {
      head: 'Record',
      cell: ({ erasureAskedOn }) =>
        erasureAskedOn ? <StateMark state="leave-alone" word="to be erased" /> : '',
    },
  ]
  return <DataTable caption="Buyers" columns={columns} rows={page.items} rowKey={({ id }) => id} />
}
