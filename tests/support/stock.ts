import { createCultures } from '@/lib/features/culture/mutations'
import { createEggCase } from '@/lib/features/egg-case/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import type { Rack } from './rack'
import { within } from './workspaces'

/** A jar on the shelf, by its id. */
export function makeJar(rack: Rack, line = 'hydei'): Promise<string> {
  return within(rack.owner, async (tx, workspace) => {
    const jar = {
      ...{ line, startedOn: rack.day(-5), count: 1, shelf: '', notes: '' },
      ...{ zone: rack.zone, bought: true },
    }
    await createCultures(tx, { scope: rack.owner, workspace }, jar)
    const made = await tx.culture.findFirstOrThrow({
      where: { workspaceId: workspace.workspaceId },
      orderBy: { id: 'desc' },
    })
    return made.id
  })
}

/** An egg case that was laid here, by its id. */
export function makeOotheca(rack: Rack): Promise<string> {
  return within(rack.owner, async (tx, workspace) => {
    const species = await requireSpecies(tx, workspace.workspaceId, 'creobroter-spp')
    const laid = {
      ...{ species: species.id, zone: rack.zone, laidOn: rack.day(-20) },
      ...{ supplier: '', lot: '', notes: '', papers: [] },
    }
    await createEggCase(tx, { scope: rack.owner, workspace }, laid)
    const made = await tx.eggCase.findFirstOrThrow({
      where: { workspaceId: workspace.workspaceId },
      orderBy: { id: 'desc' },
    })
    return made.id
  })
}
