import { beforeAll, describe, expect, test } from 'vitest'
import { POST as HATCH } from '@/app/api/v1/egg-cases/[id]/hatches/route'
import { GET as LOAD } from '@/app/api/v1/egg-cases/[id]/route'
import { POST as CREATE, GET as LIST } from '@/app/api/v1/egg-cases/route'
import { daysBetween } from '@/lib/domain/calendar/date'
import { listSiblingClutches, requireEggCase } from '@/lib/features/egg-case/data'
import {
  archiveEggCase,
  updateColdRest,
  updateEggCaseOpen,
  updateEggCaseZone,
} from '@/lib/features/egg-case/mutations'
import { newHatchFormSchema, readNewHatch } from '@/lib/features/egg-case/schema'
import { createZone } from '@/lib/features/zone/mutations'
import { headCountOf, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Egg cases')
  other = await makeRack('Another breeder')
})

const create = (body: object, token = rack.token) =>
  callApi(CREATE, { token, body: { species: 'creobroter-spp', zone: rack.zone, ...body } })
const load = (id: string, query = '', token = rack.token) => callApi(LOAD, { token, params: { id }, query })
const hatch = (id: string, body: object, token = rack.token) =>
  callApi(HATCH, { token, params: { id }, body })

describe('recording an egg case', () => {
  test('laid on a known day gives a hatch window that its warmth brings forward', async () => {
    const warm = await create({ laidOn: rack.day(-10) })
    expect(warm.status).toBe(201)
    expect(warm.body.label).toMatch(/^E-\d+$/)
    const { p10, p50, p90 } = warm.body.hatchWindow
    expect(p10 <= p50 && p50 <= p90).toBe(true)
    // Creobroter: 28 to 40 days at 27 °C, a little longer at 26.
    expect(daysBetween(rack.day(-10), p50)).toBeGreaterThanOrEqual(30)
    expect(daysBetween(rack.day(-10), p50)).toBeLessThanOrEqual(42)
    expect(warm.body.chance).toBeGreaterThan(0.5)
    const cool = await within(rack.owner, (tx, workspace) =>
      createZone(tx, workspace, { name: 'Cool cellar', setTemperatureC: 20 }),
    )
    const cooler = await create({ laidOn: rack.day(-10), zone: cool.id })
    expect(cooler.body.hatchWindow.p50 > p50).toBe(true)
  })

  test('laid between two days, or only received, gives a wider window', async () => {
    const known = await create({ laidOn: rack.day(-20) })
    const between = await create({ laidBetween: { from: rack.day(-30), until: rack.day(-10) } })
    const received = await create({ receivedOn: rack.day(-5), supplier: 'A friend', lot: '7' })
    const width = ({ body }: typeof known) => daysBetween(body.hatchWindow.p10, body.hatchWindow.p90)
    expect(width(between)).toBeGreaterThan(width(known))
    expect(received.body).toMatchObject({
      laidOn: null,
      receivedOn: rack.day(-5),
      supplier: 'A friend',
      lot: '7',
    })
    expect(width(received)).toBeGreaterThan(width(known))
  })

  test.each([
    ['laid tomorrow', { laidOn: 1 }, 'laidOn'],
    ['received tomorrow', { receivedOn: 1 }, 'receivedOn'],
    ['received before it was laid', { laidOn: -5, receivedOn: -6 }, 'receivedOn'],
  ])('%s is refused at its field', async (_, days, path) => {
    const body = Object.fromEntries(Object.entries(days).map(([key, offset]) => [key, rack.day(offset)]))
    const answer = await create(body)
    expect(answer.status).toBe(422)
    expect(answer.body.errors.map((error: { path: string }) => error.path)).toEqual([path])
  })

  test('without any day, with a range the wrong way round, or with a field nobody knows it is refused', async () => {
    expect((await create({})).status).toBe(422)
    expect((await create({ laidBetween: { from: rack.day(-3), until: rack.day(-9) } })).status).toBe(422)
    expect((await create({ laidOn: '2026-02-30' })).status).toBe(422)
    expect((await create({ laidOn: rack.day(-3), colour: 'brown' })).body.errors[0].path).toBe('colour')
  })

  test('names its mother by her label, if she is a female of that species', async () => {
    const [mother] = await makeNymphs(rack, { count: 1, hatchedOn: rack.day(-200), moults: 6 })
    const made = await create({ laidOn: rack.day(-3), mother: mother?.label.toLowerCase() })
    expect(made.body.mother).toBe(mother?.id)
    const wrong = await create({
      species: 'hymenopus-coronatus',
      laidOn: rack.day(-3),
      mother: mother?.label,
    })
    expect(wrong.body.errors[0]).toMatchObject({
      path: 'mother',
      message: 'This animal is of another species.',
    })
    expect((await create({ laidOn: rack.day(-3), mother: 'Z2Z22' })).status).toBe(422)
  })

  test('into a zone or of a species of another breeder is refused, and theirs is not found', async () => {
    expect((await create({ laidOn: rack.day(-3), zone: other.zone })).status).toBe(404)
    const theirs = await makeEggCase(other)
    expect((await load(theirs)).status).toBe(404)
    expect((await hatch(theirs, { on: rack.day(0), count: 5 })).status).toBe(404)
  })

  test('is for keepers: counter staff read it and may not write it', async () => {
    const counter = await makeToken(rack.owner, 'counter')
    expect((await create({ laidOn: rack.day(-3) }, counter)).status).toBe(403)
    expect((await callApi(LIST, { token: counter })).status).toBe(200)
  })
})

describe('the list of egg cases', () => {
  test('comes in pages that miss none and repeat none', async () => {
    const own = await makeRack('Pages')
    const made: string[] = []
    for (let index = 0; index < 5; index += 1) made.push(await makeEggCase(own, { laid: 10 + index }))
    const first = await callApi(LIST, { token: own.token, query: '?limit=3' })
    const second = await callApi(LIST, {
      token: own.token,
      query: `?limit=3&cursor=${first.body.nextCursor}`,
    })
    const seen = [...first.body.items, ...second.body.items].map(({ id }: { id: string }) => id)
    expect(seen.toSorted()).toEqual(made.toSorted())
    expect(second.body.nextCursor).toBeNull()
  })
})

describe('a hatch', () => {
  test('makes a clutch of the counted number, standing where the egg case hung', async () => {
    const id = await makeEggCase(rack)
    const answer = await hatch(id, { on: rack.day(0), count: 52 })
    expect(answer.status).toBe(201)
    expect(answer.body.clutch).toMatchObject({
      zone: rack.zone,
      hatchedOn: rack.day(0),
      eggCases: [id],
      isCounted: true,
      headCount: { hatched: 52, together: 52, single: 0 },
    })
    expect((await load(id)).body).toMatchObject({ state: 'hatching', hatches: [{ count: 52, about: null }] })
  })

  test('of "about" 60 keeps its range until the clutch is counted', async () => {
    const id = await makeEggCase(rack)
    const answer = await hatch(id, { on: rack.day(0), about: { low: 45, likely: 60, high: 80 } })
    expect(answer.body.clutch).toMatchObject({ isCounted: false, hatchedBetween: { low: 45, high: 80 } })
    const wrong = await hatch(id, { on: rack.day(0), about: { low: 70, likely: 60, high: 80 } })
    expect(wrong.body.errors[0].path).toBe('about.low')
    expect(
      (await hatch(id, { on: rack.day(0), count: 5, about: { low: 1, likely: 2, high: 3 } })).status,
    ).toBe(422)
  })

  test('on later days adds to the same clutch, whose hatch day stays the first', async () => {
    const id = await makeEggCase(rack)
    const first = await hatch(id, { on: rack.day(-3), count: 40 })
    const clutch = first.body.clutch.id
    const second = await hatch(id, { on: rack.day(-1), about: { low: 5, likely: 8, high: 12 } })
    expect(second.body.clutch).toMatchObject({
      id: clutch,
      hatchedOn: rack.day(-3),
      isCounted: false,
      hatchedBetween: { low: 45, high: 52 },
    })
    expect(await headCountOf(rack, clutch)).toMatchObject({ hatched: 48, together: 48, sums: true })
  })

  test('of several egg cases of one mother may be one clutch, of different mothers never', async () => {
    const [mother, stranger] = await makeNymphs(rack, { count: 2, hatchedOn: rack.day(-200), moults: 6 })
    const first = await makeEggCase(rack, { mother: mother?.label })
    const second = await makeEggCase(rack, { mother: mother?.label })
    const third = await makeEggCase(rack, { mother: stranger?.label })
    const clutch = (await hatch(first, { on: rack.day(0), count: 30 })).body.clutch.id
    const joined = await hatch(second, { on: rack.day(0), count: 20, clutch })
    expect(joined.body.clutch.headCount.hatched).toBe(50)
    expect(joined.body.clutch.eggCases.toSorted()).toEqual([first, second].toSorted())
    const offered = await within(rack.owner, (tx, { workspaceId }) =>
      listSiblingClutches(tx, workspaceId, {
        ...{ motherId: mother!.id, not: second },
        since: rack.day(-14),
      }),
    )
    expect(offered.map(({ id }) => id)).toEqual([clutch])
    const refused = await hatch(third, { on: rack.day(0), count: 20, clutch })
    expect(refused.body.errors[0].message).toBe('Only egg cases of one mother make one clutch.')
  })

  test('tomorrow, or before the egg case was laid, is refused at the day', async () => {
    const id = await makeEggCase(rack, { laid: 30 })
    for (const on of [rack.day(1), rack.day(-31)]) {
      const answer = await hatch(id, { on, count: 5 })
      expect(answer.status).toBe(422)
      expect(answer.body.errors[0].path).toBe('on')
    }
    expect((await hatch(id, { on: rack.day(0), count: 0 })).status).toBe(422)
  })

  test('sent twice under one key makes one clutch', async () => {
    const id = await makeEggCase(rack)
    const call = {
      token: rack.token,
      params: { id },
      body: { on: rack.day(0), count: 33 },
      headers: { 'idempotency-key': `hatch-${id}` },
    }
    const [first, second] = await Promise.all([callApi(HATCH, call), callApi(HATCH, call)])
    expect(second.body).toEqual(first.body)
    expect(await headCountOf(rack, first.body.clutch.id)).toMatchObject({ hatched: 33, sums: true })
  })

  test('typed as "about" on the screen is read as a range around it', () => {
    const typed = newHatchFormSchema.parse({
      eggCase: '0190a5a0-0000-7000-8000-000000000000',
      on: '2026-11-20',
      count: 60,
      isAbout: true,
    })
    expect(readNewHatch(typed).about).toEqual({ low: 36, likely: 60, high: 90 })
  })
})

describe('what is known on an earlier day', () => {
  test('does not know of a later hatch or a later end', async () => {
    const id = await makeEggCase(rack, { laid: 40 })
    await hatch(id, { on: rack.day(-2), count: 20 })
    await within(rack.owner, async (tx, workspace) => {
      const { version } = await requireEggCase(tx, workspace.workspaceId, id)
      const ending = { eggCase: id, version, on: rack.day(-1), end: 'spent' as const }
      await archiveEggCase(tx, { scope: rack.owner, workspace }, ending)
    })
    expect((await load(id)).body).toMatchObject({ state: 'ended', end: 'spent', hatchWindow: null })
    const before = (await load(id, `?asOf=${rack.day(-10)}`)).body
    expect(before).toMatchObject({ state: 'incubating', end: null, hatches: [] })
    expect(before.hatchWindow.p90 > rack.day(-10)).toBe(true)
    expect((await load(id, `?asOf=${rack.day(1)}`)).status).toBe(422)
  })
})

describe('the life of an egg case', () => {
  const act = <T>(work: Parameters<typeof within<T>>[1]) => within(rack.owner, work)

  test('a move to the cellar slows it from that day on and keeps what it has', async () => {
    const id = await makeEggCase(rack, { laid: 20 })
    const before = (await load(id)).body.hatchWindow.p50
    await act(async (tx, workspace) => {
      const cellar = await createZone(tx, workspace, { name: 'Slow cellar', setTemperatureC: 19 })
      const actor = { scope: rack.owner, workspace }
      await updateEggCaseZone(tx, actor, { eggCase: id, zone: cellar.id, on: rack.day(-2) })
      await expect(
        updateEggCaseZone(tx, actor, { eggCase: id, zone: rack.zone, on: rack.day(-3) }),
      ).rejects.toMatchObject({ code: 'invalid' })
    })
    expect((await load(id)).body.hatchWindow.p50 > before).toBe(true)
  })

  test('in its cold rest it has no window, and with a planned end it has one after it', async () => {
    const made = await create({
      species: 'tenodera-sinensis',
      laidOn: rack.day(-30),
      rest: { startOn: rack.day(-9) },
    })
    expect(made.body).toMatchObject({ state: 'cold-rest', hatchWindow: null })
    await act((tx, workspace) =>
      updateColdRest(
        tx,
        { scope: rack.owner, workspace },
        {
          eggCase: made.body.id,
          version: made.body.version,
          startOn: rack.day(-9),
          plannedEndOn: rack.day(50),
        },
      ),
    )
    expect((await load(made.body.id)).body.hatchWindow.p10 >= rack.day(50)).toBe(true)
  })

  test('ended by two people at once, the second is shown what the first recorded', async () => {
    const id = await makeEggCase(rack)
    const ending = { eggCase: id, version: 1, on: rack.day(0), end: 'infertile' as const }
    await act((tx, workspace) => archiveEggCase(tx, { scope: rack.owner, workspace }, ending))
    const second = act((tx, workspace) =>
      archiveEggCase(tx, { scope: rack.owner, workspace }, { ...ending, end: 'wasps' }),
    )
    await expect(second).rejects.toMatchObject({ code: 'stale', present: { version: 2, end: 'infertile' } })
    await act((tx, workspace) =>
      updateEggCaseOpen(tx, { scope: rack.owner, workspace }, { eggCase: id, version: 2 }),
    )
    expect((await load(id)).body.state).toBe('incubating')
  })

  test('a hatch after it was given up is recorded, with a word about it', async () => {
    const id = await makeEggCase(rack)
    await act((tx, workspace) =>
      archiveEggCase(
        tx,
        { scope: rack.owner, workspace },
        {
          eggCase: id,
          version: 1,
          on: rack.day(-1),
          end: 'infertile',
        },
      ),
    )
    const answer = await hatch(id, { on: rack.day(0), count: 12 })
    expect(answer.status).toBe(201)
    expect(answer.body.warnings.map(({ code }: { code: string }) => code)).toEqual(['egg-case-ended'])
  })
})
