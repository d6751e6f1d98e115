import type { PlainDate } from '@/lib/domain/calendar/date'
import { loadShelf } from '@/lib/features/culture/data'
import { createCultures, recordDiscard, recordHarvest } from '@/lib/features/culture/mutations'
import type { NewCulture } from '@/lib/features/culture/schema'
import { createZone } from '@/lib/features/zone/mutations'
import { makeWorkspace, within } from '@/tests/support/workspaces'

/** A workspace with one shelf for jars at 24.5 °C, and what is done there. */
export async function makeShelf(name: string) {
  const owner = await makeWorkspace(name)
  const zone = await within(owner, (tx, workspace) =>
    createZone(tx, workspace, { name: 'Fly shelf', setTemperatureC: 24.5 }),
  )
  const start = (culture: Partial<NewCulture> & { startedOn: PlainDate }) =>
    within(owner, (tx, workspace) =>
      createCultures(
        tx,
        { scope: owner, workspace },
        {
          line: 'melanogaster',
          count: 1,
          shelf: 'top',
          notes: '',
          bought: false,
          zone: zone.id,
          ...culture,
        },
      ),
    )
  const harvest = (culture: string, on: PlainDate, count: number) =>
    within(owner, (tx, workspace) =>
      recordHarvest(tx, { scope: owner, workspace }, { culture, on, count, measure: 'about' }),
    )
  const discard = (culture: string, on: PlainDate, as: 'discarded' | 'sold' = 'discarded') =>
    within(owner, (tx, workspace) => recordDiscard(tx, workspace, { culture, on, as }))
  const shelf = () => within(owner, (tx, workspace) => loadShelf(tx, workspace))
  return { owner, zone: zone.id, start, harvest, discard, shelf }
}
