import { type Column, DataTable } from '@/components/ui/data-table'
import { shortDay } from '@/components/ui/picture/day-scale'
import type { HatchWeek } from '@/lib/domain/hatch/weeks'

const COLUMNS: Column<HatchWeek>[] = [
  { head: 'Week from', isRowHead: true, cell: ({ week }) => shortDay(week) },
  { head: 'May hatch', cell: ({ cases }) => cases.map(sayCase).join(', ') || 'none' },
  { head: 'Any of them', isFigure: true, cell: ({ chanceOfAny }) => percent(chanceOfAny) },
  { head: 'Nymphs to expect', isFigure: true, cell: ({ nymphs }) => Math.round(nymphs) },
]

/** How likely each egg case hatches in which week, so that cups and flies are there that morning. */
export function WeeksAhead({ weeks }: { weeks: readonly HatchWeek[] }) {
  const last = weeks.findLastIndex(({ chanceOfAny }) => chanceOfAny >= 0.02)
  if (last < 0) return null
  return (
    <section className="mt-8">
      <h2 className="mb-2">Weeks ahead</h2>
      <p className="mb-2 text-small text-soft">
        Nymphs are counted by the chance that they come: of an egg case with 40 nymphs and a chance of half,
        20.
      </p>
      <DataTable
        caption="What may hatch in the weeks ahead"
        columns={COLUMNS}
        rows={weeks.slice(0, last + 1)}
        rowKey={({ week }) => week}
      />
    </section>
  )
}

function sayCase({ label, chance }: HatchWeek['cases'][number]): string {
  return `${label} ${percent(chance)}`
}

function percent(chance: number): string {
  return `${Math.round(100 * chance)} %`
}
