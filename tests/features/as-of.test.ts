import { beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { GET as getClutch } from '@/app/api/v1/clutches/[id]/route'
import { GET as getClutches } from '@/app/api/v1/clutches/route'
import { GET as getEggCase } from '@/app/api/v1/egg-cases/[id]/route'
import { GET as getEggCases } from '@/app/api/v1/egg-cases/route'
import { GET as getFoodDemand } from '@/app/api/v1/food-demand/route'
import { GET as getForecast } from '@/app/api/v1/individuals/[id]/forecast/route'
import { GET as getPastWindows } from '@/app/api/v1/past-windows/route'
import { GET as getRoom } from '@/app/api/v1/room-forecast/route'
import { API_OPERATIONS } from '@/lib/features/api-reference/schema'
import { recordHatch } from '@/lib/features/egg-case/mutations'
import { newHatchSchema } from '@/lib/features/egg-case/schema'
import { updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { recordLooks } from '@/lib/features/look/mutations'
import { recordMoults } from '@/lib/features/moult/mutations'
import { updatePastWindows } from '@/lib/features/past-window/mutations'
import { recordReadings } from '@/lib/features/reading/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { recordSetPoint } from '@/lib/features/zone/mutations'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()
const SPECIES = 'creobroter-spp'
const BEFORE = -10

let rack: Rack
let nymphs: Nymph[]
let clutchId: string
let eggCaseId: string

/** Every call that looks ahead, or back, from a day. */
const CALLS = {
  loadClutch: () => [getClutch, clutchId],
  listClutches: () => [getClutches],
  loadEggCase: () => [getEggCase, eggCaseId],
  listEggCases: () => [getEggCases],
  getFoodDemand: () => [getFoodDemand],
  forecastIndividual: () => [getForecast, nymphs[0]?.id],
  loadPastWindows: () => [getPastWindows],
  loadRoomForecast: () => [getRoom],
} satisfies Record<string, () => [typeof getRoom, string?]>
type Name = keyof typeof CALLS
const NAMES = Object.keys(CALLS) as Name[]

async function ask(name: Name, asOf: string) {
  const [call, id] = CALLS[name]() as [typeof getRoom, string?]
  return callApi(call, { token: rack.token, ...(id ? { params: { id } } : {}), query: `?asOf=${asOf}` })
}

const moult = (animals: readonly Nymph[], offset: number) =>
  within(rack.owner, (tx, workspace) =>
    recordMoults(
      tx,
      workspace,
      animals.map(({ id }) => ({
        individual: id,
        on: rack.day(offset),
        outcome: 'good' as const,
        final: false,
        note: '',
        at: '',
        spanField: 'seenFrom' as const,
      })),
    ),
  )

beforeAll(async () => {
  rack = await makeRack('As it was known')
  await within(rack.owner, (tx, workspace) =>
    recordSetPoint(tx, workspace, { zoneId: rack.zone, from: rack.day(-90), dayC: 26 }),
  )
  nymphs = await makeNymphs(rack, { species: SPECIES, count: 6, hatchedOn: rack.day(-50) })
  await moult(nymphs, -38)
  await moult(nymphs.slice(0, 5), -26)
  clutchId = await makeClutch(rack, { count: 40, hatched: 20 })
  eggCaseId = await makeEggCase(rack, { laid: 35 })
})

/** Everything that can be learned from, and all of it after the day asked about. */
async function recordWhatCameLater(): Promise<void> {
  await moult(nymphs.slice(0, 3), -8)
  const { owner } = rack
  await within(owner, async (tx, workspace) => {
    const actor = { scope: owner, workspace }
    const individuals = nymphs.slice(3).map(({ id }) => id)
    await recordLooks(tx, actor, { on: rack.day(-6), individuals, wingBuds: true, refusesFood: true })
    const hatched = newHatchSchema.parse({ on: rack.day(-4), count: 70 })
    await recordHatch(tx, actor, { ...hatched, eggCase: eggCaseId })
    await recordSetPoint(tx, workspace, { zoneId: rack.zone, from: rack.day(-7), dayC: 21 })
    const atMs = Date.parse(`${rack.day(-5)}T10:00:00Z`)
    const readings = [{ atMs, temperatureC: 19 }]
    await recordReadings(tx, actor, { zoneId: rack.zone, source: 'sensor', readings })
  })
  await makeNymphs(rack, { species: SPECIES, count: 3, hatchedOn: rack.day(-5) })
  await makeEggCase(rack, { laid: 3 })
  await within(owner, async (tx, workspace) => {
    const { id } = await requireSpecies(tx, workspace.workspaceId, SPECIES)
    await updateGrowthFit(tx, workspace, id)
    await updatePastWindows(tx, workspace, { speciesId: id })
  })
}

describe('what is asked as of a day', () => {
  test('is the same before and after everything that came later', async () => {
    await within(rack.owner, async (tx, workspace) => {
      const { id } = await requireSpecies(tx, workspace.workspaceId, SPECIES)
      await updatePastWindows(tx, workspace, { speciesId: id })
    })
    const then = rack.day(BEFORE)
    const before = new Map<Name, unknown>()
    for (const name of NAMES) {
      const { status, body } = await ask(name, then)
      expect([name, status]).toEqual([name, 200])
      before.set(name, body)
    }
    const now = new Map<Name, unknown>()
    for (const name of NAMES) now.set(name, (await ask(name, rack.today)).body)
    await recordWhatCameLater()
    for (const name of NAMES)
      expect([name, forecastOf((await ask(name, then)).body)]).toEqual([name, forecastOf(before.get(name))])
    // The same questions of today do see it.
    for (const name of ['loadRoomForecast', 'forecastIndividual', 'loadEggCase', 'loadPastWindows'] as const)
      expect([name, (await ask(name, rack.today)).body]).not.toEqual([name, now.get(name)])
  })

  test.each(NAMES)('%s refuses a day that has not come, at asOf', async (name) => {
    const { status, body } = await ask(name, rack.day(1))
    expect([status, body.errors?.[0]?.path]).toEqual([422, 'asOf'])
    expect((await ask(name, '2026-02-30')).status).toBe(422)
  })

  test('is every call that takes one, with the plan and the day’s list, which are asked elsewhere', () => {
    const taking = API_OPERATIONS.filter(({ query }) => query instanceof z.ZodObject && 'asOf' in query.shape)
    const ids = taking.map(({ id }) => id).sort()
    expect(ids).toEqual([
      'createSeparationPlan',
      'forecastIndividual',
      'getFoodDemand',
      'listClutches',
      'listEggCases',
      'loadClutch',
      'loadEggCase',
      'loadPastWindows',
      'loadRoomForecast',
      'loadToday',
    ])
  })
})

/** Versions are counted up by later changes of the record itself, and name no forecast. */
function forecastOf(body: unknown): unknown {
  return JSON.parse(JSON.stringify(body, (key, value) => (key === 'version' ? undefined : value)))
}
