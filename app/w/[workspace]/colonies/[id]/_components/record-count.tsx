'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordColonyCountAction } from '@/lib/features/colony/actions'
import type { ColonyPage } from '@/lib/features/colony/loaders'
import { newColonyCountFormSchema } from '@/lib/features/colony/schema'

/** So many stages below the largest known can be counted, and so many above. */
const BELOW = 1
const ABOVE = 2
const LARGEST = 8

/** Rows for the stages that can be inside; the last known figures stand in them. */
function rowsOf({ colony }: ColonyPage) {
  const known = colony.lines.filter(({ isAdult }) => !isAdult).map(({ moults }) => moults)
  const entered = colony.members.flatMap(({ leastMoults, mostMoults }) => [leastMoults, mostMoults])
  const all = known.length > 0 ? known : entered
  // Before anybody is known to be inside it can be any stage.
  const least = all.length === 0 ? 0 : Math.max(0, Math.min(...all) - BELOW)
  const most = all.length === 0 ? LARGEST : Math.min(LARGEST, Math.max(...all) + ABOVE)
  const of = (moults: number | null, sex: 'male' | 'female' | 'unsexed') =>
    colony.lines.find(
      (line) =>
        line.sex === sex && (moults === null ? line.isAdult : !line.isAdult && line.moults === moults),
    )?.animals
  const stages: (number | null)[] = []
  for (let moults = least; moults <= most; moults += 1) stages.push(moults)
  stages.push(null)
  return stages.map((moults) => ({
    moults,
    male: of(moults, 'male'),
    female: of(moults, 'female'),
    unsexed: of(moults, 'unsexed'),
  }))
}

export function RecordCount({ workspace, page }: { workspace: string; page: ColonyPage }) {
  const done = useDone()
  const rows = rowsOf(page)
  return (
    <DialogButton
      label="Count them"
      kind={page.colony.animals > 0 ? 'filled' : 'plain'}
      title={`Count ${page.colony.name}`}
      place="sheet"
    >
      {({ close }) => (
        <RecordForm
          name={`colony-count-${page.colony.id}`}
          schema={newColonyCountFormSchema}
          action={recordColonyCountAction}
          workspace={workspace}
          defaultValues={{ colony: page.colony.id, on: page.today, rows }}
          onDone={() => {
            close()
            done('Counted.')
          }}
          submitLabel="Record the count"
        >
          {rows.map(({ moults }, place) => (
            <fieldset key={moults ?? 'adult'} className="border-line border-t pt-3">
              <legend className="font-semibold">
                {moults === null ? 'adult' : page.stages[moults]?.label}
              </legend>
              <div className="mt-2 grid grid-cols-3 gap-3">
                <FormNumber name={`rows.${place}.male`} label="♂ male" isWhole />
                <FormNumber name={`rows.${place}.female`} label="♀ female" isWhole />
                <FormNumber name={`rows.${place}.unsexed`} label="? unsexed" isWhole />
              </div>
            </fieldset>
          ))}
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
