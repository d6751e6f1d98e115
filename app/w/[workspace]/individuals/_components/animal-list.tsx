'use client'

import Link from 'next/link'
import { useState } from 'react'
import { LabelDialog } from '@/components/care-sheet/label-dialog'
import { SheetBatchDialog, SheetDialog } from '@/components/care-sheet/sheet-dialog'
import { Button } from '@/components/ui/button'
import { type Column, DataTable } from '@/components/ui/data-table'
import { LatinName } from '@/components/ui/latin-name'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import type { IndividualListPage, ListedIndividual } from '@/lib/features/individual/loaders'
import { HandOver } from './hand-over'
import { MoveAnimals } from './move-animals'
import { RecordFeeding } from './record-feeding'
import { RecordLeaving } from './record-leaving'
import { RecordMoult } from './record-moult'
import { SexWord } from './sex-word'

type Props = { workspace: string; page: IndividualListPage }

/** The animals asked for, with boxes to tick where something can be done with several at once. */
export function AnimalList({ workspace, page }: Props) {
  const { items, today, mayPlace } = page
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  if (items.length === 0)
    return <p className="py-8 text-soft">No animal fits this. Ask for less above, or for another place.</p>
  const toggle = (id: string) =>
    setChosen((before) => {
      const next = new Set(before)
      if (!next.delete(id)) next.add(id)
      return next
    })
  const here = items.filter(({ whereabouts }) => whereabouts === 'single').map(({ id }) => id)
  const mayChoose = mayPlace && here.length > 0
  const columns = dataColumns(workspace, today, mayChoose ? { chosen, toggle } : null)
  return (
    <>
      {mayChoose ? (
        <Together {...{ workspace, page, chosen, here }} onChoose={(ids) => setChosen(new Set(ids))} />
      ) : null}
      <DataTable caption="Animals" columns={columns} rows={items} rowKey={({ id }) => id} />
    </>
  )
}

type Ticks = { chosen: ReadonlySet<string>; toggle: (id: string) => void }

function Tick({ row, chosen, toggle }: Ticks & { row: ListedIndividual }) {
  if (row.whereabouts !== 'single') return <span className="inline-block w-8" />
  return (
    <label className="target -my-3 -ms-2 inline-flex items-center justify-center pe-1">
      <input
        type="checkbox"
        className="size-5"
        checked={chosen.has(row.id)}
        onChange={() => toggle(row.id)}
        aria-label={`Choose ${formatCode(row.label)}`}
      />
    </label>
  )
}

function dataColumns(workspace: string, today: string, ticks: Ticks | null): Column<ListedIndividual>[] {
  return [
    {
      head: 'Label',
      isRowHead: true,
      cell: (row) => (
        <span className="inline-flex items-center whitespace-nowrap">
          {ticks ? <Tick row={row} {...ticks} /> : null}
          <Link href={`/w/${workspace}/individuals/${row.id}`} className="inline-block py-1 tabular-nums">
            {formatCode(row.label)}
          </Link>
        </span>
      ),
    },
    { head: 'Species', cell: ({ scientificName }) => <LatinName name={scientificName} /> },
    { head: 'Stage', cell: ({ stage }) => stage || 'not defined' },
    { head: 'Sex', cell: ({ sex, sexCertainty }) => <SexWord sex={sex} certainty={sexCertainty} /> },
    {
      head: 'State',
      cell: ({ words, whereabouts }) =>
        words ? <StateMark {...words} /> : (WHERE_WORDS[whereabouts] ?? 'no forecast'),
    },
    {
      head: 'Where',
      cell: ({ zone, container }) => (zone ? `${zone}${container ? `, ${container}` : ''}` : ''),
    },
    { head: 'Last ate', cell: ({ lastFedOn }) => (lastFedOn ? writeDay(lastFedOn, today) : '') },
  ]
}

const WHERE_WORDS: Partial<Record<ListedIndividual['whereabouts'], string>> = {
  sold: 'sold',
  given_away: 'given away',
  dead: 'dead',
  escaped: 'escaped',
}

type TogetherProps = Props & {
  chosen: ReadonlySet<string>
  here: string[]
  onChoose: (ids: string[]) => void
}

/** What can be done with all that are ticked. */
function Together({ workspace, page, chosen, here, onChoose }: TogetherProps) {
  const individuals = [...chosen]
  const { today, choices, mayWrite } = page
  const done = () => onChoose([])
  return (
    <section
      aria-label="Several at once"
      className="no-print sticky top-0 z-10 flex flex-wrap items-center gap-2 border-line border-b bg-ground py-2"
    >
      <Button kind="quiet" onClick={() => onChoose(individuals.length === here.length ? [] : here)}>
        {individuals.length === here.length ? 'Choose none' : 'Choose all'}
      </Button>
      <p role="status" className="text-small text-soft">
        {individuals.length === 0
          ? 'Tick animals to do something with several at once.'
          : `${individuals.length} chosen`}
      </p>
      {individuals.length > 0 ? (
        <div className="flex flex-wrap gap-2">
          {mayWrite ? (
            <>
              <RecordMoult {...{ workspace, individuals, today }} onDone={done} />
              <RecordFeeding {...{ workspace, individuals, today }} onDone={done} />
            </>
          ) : null}
          <MoveAnimals {...{ workspace, individuals, today }} choices={choices} onDone={done} />
          <RecordLeaving {...{ workspace, individuals, today }} onDone={done} />
          {mayWrite ? <HandOver {...{ workspace, individuals }} onDone={done} /> : null}
          {page.mayPrint ? (
            <>
              <LabelDialog {...{ workspace, individuals }} />
              <SheetBatchDialog {...{ workspace, individuals }} onDone={done} />
              {individuals.length > 1 ? <SheetDialog {...{ workspace, individuals }} onDone={done} /> : null}
            </>
          ) : null}
        </div>
      ) : null}
    </section>
  )
}
