import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { LatinName } from '@/components/ui/latin-name'
import { StateMark } from '@/components/ui/state-mark'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import type { RestingAnimal } from '@/lib/features/day-sheet/data'

type Props = {
  workspace: string
  animals: readonly RestingAnimal[]
  zones: readonly { id: string; name: string }[]
  today: PlainDate
}

/** Who is behind the lines about leaving alone and missed skins: on the same sheet, so that it can be printed. */
export function RestingAnimals({ workspace, animals, zones, today }: Props) {
  const zoneName = new Map(zones.map(({ id, name }) => [id, name]))
  const columns: Column<RestingAnimal>[] = [
    {
      head: 'Animal',
      isRowHead: true,
      cell: ({ id, label }) => (
        <Link
          prefetch={false}
          href={`/w/${workspace}/individuals/${id}`}
          className="target inline-flex items-center"
        >
          {formatCode(label)}
        </Link>
      ),
    },
    { head: 'Species', cell: ({ scientificName }) => <LatinName name={scientificName} /> },
    { head: 'Stage', cell: ({ stage }) => stage },
    { head: 'Where', cell: ({ zoneId }) => zoneName.get(zoneId ?? '') ?? '' },
    { head: 'Why', cell: (animal) => <Why animal={animal} today={today} /> },
  ]
  const alone = animals.filter(({ state }) => state !== 'overdue')
  const overdue = animals.filter(({ state }) => state === 'overdue')
  const rowKey = ({ id }: RestingAnimal) => id
  return (
    <>
      {alone.length > 0 ? (
        <section id="alone" className="mt-10 scroll-mt-4">
          <h2>Leave alone</h2>
          <p className="mb-3 text-small text-soft">
            Mist lightly. One small prey; if it is ignored for a day, take it out and offer nothing more.
          </p>
          <DataTable caption="Animals to leave alone today" columns={columns} rows={alone} rowKey={rowKey} />
        </section>
      ) : null}
      {overdue.length > 0 ? (
        <section id="skins" className="mt-10 scroll-mt-4">
          <h2>Look for a skin</h2>
          <p className="mb-3 text-small text-soft">
            They have been in this instar longer than nearly all. A moult may have gone unseen.
          </p>
          <DataTable
            caption="Animals whose moult may have been missed"
            columns={columns}
            rows={overdue}
            rowKey={rowKey}
          />
        </section>
      ) : null}
    </>
  )
}

function Why({ animal, today }: { animal: RestingAnimal; today: PlainDate }) {
  const { state, softUntil, windowUntil } = animal
  if (state === 'overdue') return <StateMark state="fine" word="longer than nearly all" />
  if (softUntil) return <StateMark state="leave-alone" word={`soft until ${writeDay(softUntil, today)}`} />
  const until = windowUntil ? `, most likely by ${writeDay(windowUntil, today)}` : ''
  return <StateMark state="leave-alone" word={`may moult any day${until}`} />
}
