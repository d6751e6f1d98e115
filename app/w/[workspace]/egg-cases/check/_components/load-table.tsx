import { type Column, DataTable } from '@/components/ui/data-table'
import { shortDay } from '@/components/ui/picture/day-scale'
import { StateMark } from '@/components/ui/state-mark'
import type { TakenWeek } from '@/lib/domain/hatch-check/answer'
import type { WeekFood } from '@/lib/domain/hatch-check/food'
import { writeMoney } from '@/lib/domain/money/money'
import { writeMinutes } from '@/lib/domain/separation/bench-hours'
import type { HatchCheckPage } from '@/lib/features/hatch-check/loaders'

type Checked = NonNullable<HatchCheckPage['checked']>
type Row = { week: TakenWeek; food: WeekFood | undefined }

/** What the hatch would ask of the room week by week, beside what is left by then. */
export function LoadTable({ page, checked }: { page: HatchCheckPage; checked: Checked }) {
  const rows = checked.answer.weeks
    .map((week, index) => ({ week, food: checked.food[index] }))
    .filter(({ week }) => week.living >= 0.5)
  const columns: Column<Row>[] = [
    { head: 'Week from', isRowHead: true, cell: ({ week }) => shortDay(week.week) },
    { head: 'Nymphs', isFigure: true, cell: ({ week }) => Math.round(week.living) },
    {
      head: 'Parting and feeding',
      isFigure: true,
      cell: ({ week }) => writeMinutes(week.partingMinutes + week.feedingMinutes),
    },
    {
      head: 'Hours left',
      isFigure: true,
      cell: ({ week }) => writeMinutes(week.minutes - week.spokenMinutes),
    },
    { head: 'Containers', isFigure: true, cell: ({ week }) => Math.round(week.cups) },
    {
      head: 'Containers left',
      isFigure: true,
      cell: ({ week }) => Math.max(0, Math.round(week.freeCups - week.spokenCups)),
    },
    { head: 'Live food', cell: ({ food }) => sayFood(food) },
    ...(page.maySeeCosts
      ? [
          {
            head: 'Food costs',
            isFigure: true,
            cell: ({ food }: Row) => sayCost(food, page.currency),
          },
        ]
      : []),
    { head: 'Enough?', cell: ({ week }) => <Enough week={week} /> },
  ]
  return (
    <section>
      <h2 className="mb-2">Week by week</h2>
      <p className="mb-2 text-small text-soft">
        If it hatches on the most likely day, with the usual number of nymphs, all of them raised. Left is
        what clutches and egg cases that are here do not need. Money is the food alone: medium and jars of the
        lines you keep, or packs at their price.
      </p>
      <DataTable
        caption="What the hatch asks for by week"
        columns={columns}
        rows={rows}
        rowKey={({ week }) => week.week}
      />
    </section>
  )
}

/** Of food that no line here gives nobody knows the price. */
function sayCost(food: WeekFood | undefined, currency: string): string {
  return food && food.lines.length > 0
    ? writeMoney(Math.round(food.costMinor), currency, 'en-GB')
    : 'not known'
}

function sayFood(food: WeekFood | undefined): string {
  if (!food || food.lines.length === 0) return 'nothing you keep'
  return food.lines
    .map(({ name, items, units, isCulture }) => {
      const amount = units < 10 ? units.toFixed(1) : String(Math.round(units))
      return `${Math.round(items)} ${name} (${amount} ${isCulture ? 'cultures' : 'packs'})`
    })
    .join(', ')
}

function Enough({ week }: { week: TakenWeek }) {
  if (week.isShortOfHours && week.isShortOfCups) return <StateMark state="late" word="short of both" />
  if (week.isShortOfHours) return <StateMark state="late" word="short of hours" />
  if (week.isShortOfCups) return <StateMark state="late" word="short of containers" />
  return <StateMark state="fine" word="enough" />
}
