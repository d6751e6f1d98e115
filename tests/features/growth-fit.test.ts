import { type JobHelpers, run } from 'graphile-worker'
import { beforeAll, describe, expect, test } from 'vitest'
import { GET as getForecast } from '@/app/api/v1/individuals/[id]/forecast/route'
import { daysBetween } from '@/lib/domain/calendar/date'
import { listDoubts } from '@/lib/features/growth-fit/data'
import { updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { requireIndividual } from '@/lib/features/individual/data'
import { recordLooks } from '@/lib/features/look/mutations'
import {
  archiveMoult,
  recordMoults,
  updateMoultConfirmed,
  updateMoultDay,
} from '@/lib/features/moult/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { updateCareProfile } from '@/lib/features/species/mutations'
import { TASKS } from '@/lib/ops/tasks'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

const database = requireDatabase()
const SPECIES = 'creobroter-spp'

let rack: Rack
let neighbour: Rack
beforeAll(async () => {
  rack = await makeRack('Learning room')
  neighbour = await makeRack('Other room')
})

const forecastOf = async (of: Rack, { id }: Nymph, query = '') =>
  (await callApi(getForecast, { token: of.token, params: { id }, query })).body.nextMoult

/** Every animal of a clutch moults on the same days after the hatch. */
async function makeClutchOf(of: Rack, { hatched, moults }: { hatched: number; moults: number[] }) {
  const nymphs = await makeNymphs(of, { species: SPECIES, count: 6, hatchedOn: of.day(-hatched) })
  for (const after of moults)
    await within(of.owner, (tx, workspace) =>
      recordMoults(
        tx,
        workspace,
        nymphs.map(({ id }) => ({
          individual: id,
          on: of.day(after - hatched),
          outcome: 'good' as const,
          final: false,
          note: '',
          at: '',
          spanField: 'seenFrom' as const,
        })),
      ),
    )
  return nymphs
}

const refit = (of: Rack) =>
  within(of.owner, async (tx, workspace) => {
    const { id } = await requireSpecies(tx, workspace.workspaceId, SPECIES)
    return updateGrowthFit(tx, workspace, id)
  })

const fitOf = (of: Rack) =>
  within(of.owner, async (tx, { workspaceId }) => {
    const { id } = await requireSpecies(tx, workspaceId, SPECIES)
    return tx.growthFit.findUnique({ where: { workspaceId_speciesId: { workspaceId, speciesId: id } } })
  })

describe('what own records say', () => {
  test('a slow clutch shifts its own windows most, its species’ a little, and nobody else’s', async () => {
    const usual = await makeClutchOf(rack, { hatched: 60, moults: [12, 22, 33] })
    const [fresh] = await makeNymphs(rack, { species: SPECIES, count: 1, hatchedOn: rack.day(-2) })
    const [foreign] = await makeNymphs(neighbour, { species: SPECIES, count: 1, hatchedOn: rack.day(-2) })
    const before = await forecastOf(neighbour, foreign!)
    expect(await refit(rack)).toBe('fitted')
    const slow = await makeClutchOf(rack, { hatched: 40, moults: [18, 33] })
    const unlearned = await forecastOf(rack, slow[0]!)
    expect(await refit(rack)).toBe('fitted')
    const learned = await forecastOf(rack, slow[0]!)
    expect(daysBetween(unlearned.p50, learned.p50)).toBeGreaterThanOrEqual(1)
    expect(learned.reason).toMatch(/from 30 moults of yours; this clutch runs \d+ % slower/)
    expect((await forecastOf(rack, usual[0]!)).reason).toMatch(/from 30 moults of yours/)
    expect((await forecastOf(rack, fresh!)).reason).toMatch(/from 30 moults of yours/)
    expect(await forecastOf(neighbour, foreign!)).toEqual(before)
    expect(before.reason).toMatch(/care profile/)
  })

  test('of an earlier day are learned from what was known then', async () => {
    const [animal] = await makeNymphs(rack, { species: SPECIES, count: 1, hatchedOn: rack.day(-32) })
    const then = await forecastOf(rack, animal!, `?asOf=${rack.day(-31)}`)
    // By then the usual clutch had moulted twice, and the slow one not at all.
    expect(then.reason).toMatch(/from 12 moults of yours/)
  })

  test('taken back are as if they had never been, to the day', async () => {
    const [animal] = await makeNymphs(rack, { species: SPECIES, count: 1, hatchedOn: rack.day(-30) })
    await refit(rack)
    const before = await forecastOf(rack, animal!)
    const { value } = await within(rack.owner, (tx, workspace) =>
      recordMoults(tx, workspace, [
        {
          individual: animal!.id,
          on: rack.day(-4),
          outcome: 'good',
          final: false,
          note: '',
          at: '',
          spanField: 'seenFrom',
        },
      ]),
    )
    expect(await refit(rack)).toBe('fitted')
    expect(await forecastOf(rack, animal!)).not.toEqual(before)
    const moult = await within(rack.owner, async (tx, { workspaceId }) => {
      const { moults } = await requireIndividual(tx, workspaceId, animal!.id)
      return moults.at(-1)!
    })
    expect(moult.id).toBe(value[0]?.id)
    await within(rack.owner, (tx, workspace) =>
      archiveMoult(tx, workspace, { moult: moult.id, version: moult.version }),
    )
    expect(await refit(rack)).toBe('fitted')
    expect(await forecastOf(rack, animal!)).toEqual(before)
  })

  test('are learned from once, however often and at once they are asked for', async () => {
    await makeClutchOf(rack, { hatched: 25, moults: [11] })
    const { version = 0 } = (await fitOf(rack)) ?? {}
    const said = await Promise.all([refit(rack), refit(rack), refit(rack)])
    expect(said.sort()).toEqual(['fitted', 'unchanged', 'unchanged'])
    expect((await fitOf(rack))?.version).toBe(version + 1)
  })

  test('follow a changed care profile with the next fit, and serve as they were until then', async () => {
    const [animal] = await makeNymphs(rack, { species: SPECIES, count: 1, hatchedOn: rack.day(-3) })
    await refit(rack)
    const before = await forecastOf(rack, animal!)
    await within(rack.owner, async (tx, { workspaceId }) => {
      const species = await requireSpecies(tx, workspaceId, SPECIES)
      const edits = [{ path: 'growth.daysToAdult.female.value', value: 260 }]
      await updateCareProfile(tx, workspaceId, { species, edits })
    })
    expect(await forecastOf(rack, animal!)).toEqual(before)
    expect(await refit(rack)).toBe('fitted')
    expect(await forecastOf(rack, animal!)).not.toEqual(before)
  })
})

describe('a change of the records', () => {
  const jobsOf = (of: Rack) =>
    withClient(database.urls.jobs, async (client) => {
      const { rows } = await client.query<{ payload: { speciesId: string } }>(
        `select p.payload from graphile_worker.jobs j join graphile_worker._private_jobs p using (id)
          where j.task_identifier = 'refit-growth' and p.payload ->> 'workspaceId' = $1`,
        [of.owner.workspaceId],
      )
      return rows.map(({ payload }) => payload.speciesId)
    })
  const dropJobs = () =>
    withClient(database.urls.jobs, (client) => client.query('delete from graphile_worker._private_jobs'))

  test('asks for one fit of its species, in its own transaction', async () => {
    const shelf = await makeRack('Asking room')
    const [animal] = await makeNymphs(shelf, { species: SPECIES, count: 1, hatchedOn: shelf.day(-20) })
    const speciesId = await within(
      shelf.owner,
      async (tx, { workspaceId }) => (await requireSpecies(tx, workspaceId, SPECIES)).id,
    )
    await dropJobs()
    const look = (on: string) =>
      within(shelf.owner, (tx, workspace) =>
        recordLooks(tx, { scope: shelf.owner, workspace }, { on, individuals: [animal!.id] }),
      )
    await look(shelf.day(-3))
    await look(shelf.day(-2))
    expect(await jobsOf(shelf)).toEqual([speciesId])
    await dropJobs()
    const broken = within(shelf.owner, async (tx, workspace) => {
      await recordLooks(
        tx,
        { scope: shelf.owner, workspace },
        { on: shelf.day(-1), individuals: [animal!.id] },
      )
      throw new Error('the line broke')
    })
    await expect(broken).rejects.toThrow('the line broke')
    expect(await jobsOf(shelf)).toEqual([])
    expect(await jobsOf(neighbour)).toEqual([])
  })

  test('is learned from by the queue', async () => {
    const shelf = await makeRack('Queue room')
    await dropJobs()
    await makeClutchOf(shelf, { hatched: 40, moults: [14, 26] })
    await withClient(database.urls.jobs, (client) =>
      client.query('update graphile_worker._private_jobs set run_at = now()'),
    )
    const runner = await run({
      connectionString: database.urls.jobs,
      taskList: TASKS,
      noHandleSignals: true,
      parsedCronItems: [],
    })
    try {
      for (let tries = 0; tries < 200 && (await fitOf(shelf))?.version !== 1; tries += 1)
        await new Promise((resolve) => setTimeout(resolve, 50))
    } finally {
      await runner.stop()
    }
    expect(await fitOf(shelf)).toMatchObject({ version: 1, failure: null })
  })

  test('that no fit can be made from leaves the last one serving, says why, and is tried again', async () => {
    const shelf = await makeRack('Broken room')
    const [animal] = await makeClutchOf(shelf, { hatched: 40, moults: [14, 26] })
    await refit(shelf)
    const before = await forecastOf(shelf, animal!)
    const payload = await within(shelf.owner, async (tx, { workspaceId }) => {
      const { id, profile } = await requireSpecies(tx, workspaceId, SPECIES)
      const content = JSON.parse(
        JSON.stringify({ ...profile, growth: { ...profile?.growth, daysToAdult: {} } }),
      )
      await tx.careProfile.create({ data: { workspaceId, speciesId: id, number: 2, content } })
      return { workspaceId, speciesId: id }
    })
    await expect(TASKS['refit-growth']!(payload, {} as JobHelpers)).rejects.toThrow()
    expect(await fitOf(shelf)).toMatchObject({ version: 1, failure: expect.stringMatching(/.+/) })
    expect(await forecastOf(shelf, animal!)).toEqual(before)
    await within(shelf.owner, async (tx, { workspaceId }) => {
      const first = await tx.careProfile.findFirstOrThrow({ where: { ...payload, number: 1 } })
      await tx.careProfile.create({
        data: {
          workspaceId,
          speciesId: payload.speciesId,
          number: 3,
          content: JSON.parse(JSON.stringify(first.content)),
        },
      })
    })
    await TASKS['refit-growth']!(payload, {} as JobHelpers)
    expect(await fitOf(shelf)).toMatchObject({ version: 1, failure: null })
  })
})

describe('a date that does not fit', () => {
  const doubtsOf = (of: Rack) => within(of.owner, (tx, { workspaceId }) => listDoubts(tx, workspaceId))

  /** Eight animals as usual, and a ninth whose second moult was typed ten days too late. */
  async function makeSlip(of: Rack) {
    await makeClutchOf(of, { hatched: 80, moults: [12, 23, 35] })
    const [slipped] = await makeNymphs(of, { species: SPECIES, count: 1, hatchedOn: of.day(-80) })
    for (const after of [12, 33, 35])
      await within(of.owner, (tx, workspace) =>
        recordMoults(tx, workspace, [
          {
            individual: slipped!.id,
            on: of.day(after - 80),
            outcome: 'good',
            final: false,
            note: '',
            at: '',
            spanField: 'seenFrom',
          },
        ]),
      )
    await refit(of)
    return slipped!
  }

  test('is pointed out, corrected with one tap and put back with the next', async () => {
    const shelf = await makeRack('Slips')
    const slipped = await makeSlip(shelf)
    const [doubt, ...others] = await doubtsOf(shelf)
    expect(others).toEqual([])
    expect(doubt).toMatchObject({ animalId: slipped.id, moults: 2, on: shelf.day(33 - 80) })
    expect(doubt?.likelyOn).not.toBeNull()
    const change = (on: string, version: number) =>
      within(shelf.owner, (tx, workspace) =>
        updateMoultDay(tx, workspace, { moult: doubt!.moultId, version, on }),
      )
    const { version, before } = await change(doubt!.likelyOn!, doubt!.version)
    expect(await doubtsOf(shelf)).toEqual([])
    expect(await refit(shelf)).toBe('fitted')
    expect(await doubtsOf(shelf)).toEqual([])
    await change(before.on, version)
    await refit(shelf)
    expect(await doubtsOf(shelf)).toMatchObject([{ moultId: doubt!.moultId, on: doubt!.on }])
    await expect(change(shelf.day(10), version + 1)).rejects.toThrow(/future/)
    await expect(change(shelf.day(-79), version + 1)).rejects.toThrow(/before its last moult/)
    await expect(change(shelf.day(-20), version + 1)).rejects.toThrow(/next moult/)
    await expect(change(doubt!.likelyOn!, version)).rejects.toThrow(/changed meanwhile/)
  })

  test('is asked about no more once somebody has said that it is right', async () => {
    const shelf = await makeRack('Sure')
    const slipped = await makeSlip(shelf)
    const distrusted = async () => {
      const own = await within(shelf.owner, (tx, { workspaceId }) =>
        tx.animalGrowth.findUniqueOrThrow({
          where: { workspaceId_individualId: { workspaceId, individualId: slipped.id } },
        }),
      )
      const { wrongDates } = own.effect as { wrongDates: { moults: number; chance: number }[] }
      return wrongDates.find(({ moults }) => moults === 2)?.chance ?? 0
    }
    expect(await distrusted()).toBeGreaterThan(0.9)
    const [doubt] = await doubtsOf(shelf)
    const say = (isRight: boolean, version: number) =>
      within(shelf.owner, (tx, workspace) =>
        updateMoultConfirmed(tx, workspace, { moult: doubt!.moultId, version, isRight }),
      )
    await say(true, doubt!.version)
    expect(await doubtsOf(shelf)).toEqual([])
    await refit(shelf)
    // If this one is right, it is the one two days after it that does not fit.
    expect(await doubtsOf(shelf)).toMatchObject([{ animalId: slipped.id, moults: 3, days: 2 }])
    // Nor does the fit distrust it any more, so that the windows count from it.
    expect(await distrusted()).toBe(0)
    await say(false, doubt!.version + 1)
    await refit(shelf)
    expect(await doubtsOf(shelf)).toMatchObject([{ moultId: doubt!.moultId }])
  })
})
