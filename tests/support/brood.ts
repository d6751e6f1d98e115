import type { HeadCount } from '@/lib/domain/head-count/head-count'
import { isSumRight } from '@/lib/domain/head-count/head-count'
import { loadHeadCount } from '@/lib/features/clutch/data'
import { createEggCase, recordHatch } from '@/lib/features/egg-case/mutations'
import { newEggCaseSchema, newHatchSchema } from '@/lib/features/egg-case/schema'
import type { Rack } from '@/tests/support/rack'
import { within } from '@/tests/support/workspaces'

type Laying = { species?: string; laid?: number; mother?: string }

/** An egg case in the warm room, laid so many days ago. */
export async function makeEggCase(
  rack: Rack,
  { species = 'creobroter-spp', laid = 40, mother }: Laying = {},
) {
  const typed = newEggCaseSchema.parse({ species, zone: rack.zone, laidOn: rack.day(-laid), mother })
  const { id } = await within(rack.owner, (tx, workspace) =>
    createEggCase(tx, { scope: rack.owner, workspace }, typed),
  )
  return id
}

type Hatching = Laying & {
  count?: number
  about?: { low: number; likely: number; high: number }
  hatched?: number
}

/** Siblings of one hatch, together in the warm room since so many days. */
export async function makeClutch(rack: Rack, hatching: Hatching = {}): Promise<string> {
  const hatched = hatching.hatched ?? 10
  const eggCase = await makeEggCase(rack, { ...hatching, laid: hatched + 40 })
  const count = hatching.about ? undefined : (hatching.count ?? 60)
  const typed = newHatchSchema.parse({ on: rack.day(-hatched), count, about: hatching.about })
  const { value } = await within(rack.owner, (tx, workspace) =>
    recordHatch(tx, { scope: rack.owner, workspace }, { ...typed, eggCase }),
  )
  return value.clutchId
}

/** Where the animals of a clutch are, with the proof that nobody was lost in between. */
export async function headCountOf(
  rack: Rack,
  clutchId: string,
  asOf?: string,
): Promise<HeadCount & { sums: boolean }> {
  const count = await within(rack.owner, (tx, { workspaceId }) =>
    loadHeadCount(tx, workspaceId, { clutchId, asOf }),
  )
  return { ...count, sums: isSumRight(count) }
}
