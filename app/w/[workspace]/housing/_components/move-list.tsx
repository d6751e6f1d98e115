'use client'

import Link from 'next/link'
import { useState } from 'react'
import { Button } from '@/components/ui/button'
import { type Column, DataTable } from '@/components/ui/data-table'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { LatinName } from '@/components/ui/latin-name'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { recordMovesUpAction } from '@/lib/features/housing/actions'
import type { HousingPage, Measures, MoveUpRow } from '@/lib/features/housing/loaders'

type Props = { workspace: string; page: HousingPage; zone: HousingPage['zones'][number] }

/** The animals of a zone that have to move up, with boxes to tick: those who may be touched today come first. */
export function MoveList({ workspace, page, zone }: Props) {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const done = useDone()
  const movable = zone.moves.filter(isMovable)
  const picked = movable.filter(({ id }) => chosen.has(id))
  const toggle = (id: string) =>
    setChosen((before) => {
      const next = new Set(before)
      if (!next.delete(id)) next.add(id)
      return next
    })
  const ticks = page.mayPlace ? { chosen, toggle } : null
  return (
    <section>
      <h2>{zone.name}</h2>
      {page.mayPlace && movable.length > 0 ? (
        <div className="no-print my-2 flex flex-wrap items-start gap-2">
          <Button onClick={() => setChosen(new Set(picked.length > 0 ? [] : movable.map(({ id }) => id)))}>
            {picked.length > 0 ? 'Choose none' : `Choose all ${movable.length} that may be touched`}
          </Button>
          {picked.length > 0 ? (
            <ActionButton
              action={recordMovesUpAction}
              workspace={workspace}
              input={{
                on: page.today,
                moves: picked.map(({ id, to }) => ({ individual: id, containerKind: to?.id })),
              }}
              kind="filled"
              onDone={() => {
                setChosen(new Set())
                done(`${writeCount(picked.length, 'animal')} moved up.`)
              }}
            >
              Moved up today: {picked.length}
            </ActionButton>
          ) : null}
        </div>
      ) : null}
      <DataTable
        caption={`To move up in ${zone.name}`}
        columns={columnsOf(workspace, page.today, ticks)}
        rows={zone.moves}
        rowKey={({ id }) => id}
      />
    </section>
  )
}

function isMovable({ to, notBefore }: MoveUpRow): boolean {
  return to !== null && notBefore === null
}

type Ticks = { chosen: ReadonlySet<string>; toggle: (id: string) => void }

function columnsOf(workspace: string, today: string, ticks: Ticks | null): Column<MoveUpRow>[] {
  return [
    {
      head: 'Label',
      isRowHead: true,
      cell: (row) => (
        <span className="inline-flex items-center whitespace-nowrap">
          {ticks ? <Tick row={row} {...ticks} /> : null}
          <Link href={`/w/${workspace}/individuals/${row.id}`} className="inline-block py-1 tabular-nums">
            {row.label}
          </Link>
        </span>
      ),
    },
    { head: 'Species', cell: ({ scientificName }) => <LatinName name={scientificName} /> },
    { head: 'Stage', cell: ({ stage }) => stage },
    { head: 'Lives in', cell: ({ kindName }) => kindName },
    { head: 'Needs', cell: ({ need }) => sayMeasures(need) },
    { head: 'After moult', cell: ({ nextNeed }) => (nextNeed ? sayMeasures(nextNeed) : '') },
    { head: 'Into', cell: ({ to }) => to?.name ?? 'no kind is large enough' },
    { head: 'By', cell: (row) => <By row={row} today={today} /> },
  ]
}

function Tick({ row, chosen, toggle }: Ticks & { row: MoveUpRow }) {
  if (!isMovable(row)) return <span className="inline-block w-8" />
  return (
    <label className="target -my-3 -ms-2 inline-flex items-center justify-center pe-1">
      <input
        type="checkbox"
        className="size-5"
        checked={chosen.has(row.id)}
        onChange={() => toggle(row.id)}
        aria-label={`Choose ${row.label}`}
      />
    </label>
  )
}

/** "70 × 45 mm": height first, as the animal hangs. */
function sayMeasures({ heightMm, widthMm }: Measures): string {
  return `${heightMm} × ${widthMm} mm`
}

function By({ row, today }: { row: MoveUpRow; today: string }) {
  const { urgency, lastSafeOn, notBefore } = row
  if (notBefore) return <StateMark state="leave-alone" word={`not before ${writeDay(notBefore, today)}`} />
  if (urgency === 'now') return <StateMark state="due" word="too small now" />
  return lastSafeOn ? <StateMark state="fine" word={writeDay(lastSafeOn, today)} /> : 'before its next moult'
}
