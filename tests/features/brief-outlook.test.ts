import { expect, test } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { briefOutlookOf } from '@/lib/domain/individual/brief-outlook'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import { updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { getBriefOutlook, listIndividuals } from '@/lib/features/individual/data'
import { recordMoults } from '@/lib/features/moult/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { recordSetPoint } from '@/lib/features/zone/mutations'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { within } from '@/tests/support/workspaces'

requireDatabase()
const SPECIES = 'creobroter-spp'

/** What a list says of every animal: as it is kept, which has to be what is worked out anew. */
const readList = ({ owner }: Rack, { inDays = 0 } = {}) =>
  within(owner, async (tx, workspace) => {
    const rows = await listIndividuals(tx, workspace.workspaceId, { filter: {}, limit: 50 })
    const { species, zones } = await loadForecastGround(tx, workspace, { animals: rows })
    return rows.map((row) => {
      const { profile, learned = null } = species.get(row.speciesId) ?? {}
      if (!profile) throw new Error('the species has a profile')
      const today = addDays(workspace.today, inDays)
      const known = { profile, learned, zones, today, naming: instarNamingOf(workspace) }
      const [first, again] = [getBriefOutlook(row, known), getBriefOutlook(row, known)]
      expect(again).toBe(first)
      expect(first).toEqual(briefOutlookOf(row, known))
      return first
    })
  })

const moult = (rack: Rack, id: string, on: string) =>
  within(rack.owner, (tx, workspace) =>
    recordMoults(tx, workspace, [
      { individual: id, on, outcome: 'good', final: false, note: '', at: '', spanField: 'seenFrom' },
    ]),
  )

test('what is kept of an animal follows every change of what it was worked out from', async () => {
  const rack = await makeRack('Kept outlooks')
  const nymphs = await makeNymphs(rack, { species: SPECIES, count: 6, hatchedOn: rack.day(-60) })
  for (const after of [12, 22, 33]) for (const { id } of nymphs) await moult(rack, id, rack.day(after - 60))
  let before = await readList(rack)
  const becomes = async (change: () => Promise<unknown>, changed: number) => {
    await change()
    const now = await readList(rack)
    expect(now.filter((outlook, at) => outlook !== before[at])).toHaveLength(changed)
    before = now
  }
  await becomes(async () => {}, 0)
  await becomes(() => moult(rack, String(nymphs[0]?.id), rack.day(-1)), 1)
  const zone = { zoneId: rack.zone, from: rack.day(-10), dayC: 21 }
  await becomes(() => within(rack.owner, (tx, workspace) => recordSetPoint(tx, workspace, zone)), 6)
  await becomes(
    () =>
      within(rack.owner, async (tx, workspace) => {
        const { id } = await requireSpecies(tx, workspace.workspaceId, SPECIES)
        expect(await updateGrowthFit(tx, workspace, id)).toBe('fitted')
      }),
    6,
  )
  const tomorrow = await readList(rack, { inDays: 1 })
  expect(tomorrow.filter((outlook, at) => outlook !== before[at])).toHaveLength(6)
})

test('of two workspaces that are alike each has its own', async () => {
  const [one, other] = [await makeRack('Alike'), await makeRack('Alike too')]
  for (const rack of [one, other])
    await makeNymphs(rack, { species: SPECIES, count: 2, hatchedOn: rack.day(-30), moults: 1 })
  const kept = await readList(one)
  for (const outlook of await readList(other)) expect(kept).not.toContain(outlook)
})
