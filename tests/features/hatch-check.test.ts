import { beforeAll, describe, expect, test } from 'vitest'
import { POST } from '@/app/api/v1/hatch-checks/route'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let eggCase: string
const ask = (body: object, token = rack.token) => callApi(POST, { token, body })
const paths = (answer: Awaited<ReturnType<typeof ask>>) =>
  answer.body.errors.map((error: { path: string }) => error.path)

beforeAll(async () => {
  rack = await makeRack('Another ooth', 60)
  eggCase = await makeEggCase(rack, { laid: 20 })
})

describe('can I take this hatch', () => {
  test('of an egg case that is here', async () => {
    const { status, body } = await ask({ eggCase })
    expect(status).toBe(201)
    expect(body).toMatchObject({ verdict: 'all', raise: 30, earlyLots: 0, limit: null, move: null })
    expect(body.weeks).toHaveLength(16)
    expect(body.sentence).toMatch(/^Yes: hatching about /)
    const busy = body.weeks.find((week: { partingMinutes: number }) => week.partingMinutes > 5)
    expect(busy).toMatchObject({ freeContainers: 60, isShortOfHours: false })
    expect(busy.food.length).toBeGreaterThan(0)
    expect(busy.cost).toMatchObject({ currency: 'EUR' })
  })

  test('of one not yet bought, with what is spoken for by the clutch that stands there', async () => {
    const asked = { species: 'creobroter-spp', zone: rack.zone, nymphs: 50 }
    const before = await ask(asked)
    expect(before.body).toMatchObject({ verdict: 'all', nymphs: { low: 50, typical: 50, high: 50 } })
    await makeClutch(rack, { count: 40, hatched: 4 })
    const after = await ask(asked)
    expect(after.body.verdict).toBe('some')
    expect(after.body.limit).toBe('containers')
    expect(after.body.raise).toBeLessThan(30)
    expect(after.body.raise + after.body.earlyLots).toBe(50)
    expect(after.body.sentence).toMatch(/containers run short/)
  })

  test('says costs only to those who may see them', async () => {
    const { body } = await ask({ eggCase }, await makeToken(rack.owner, 'viewer'))
    expect(body.weeks.every((week: { cost: unknown }) => week.cost === null)).toBe(true)
  })

  test('refuses at the field what cannot be asked', async () => {
    expect(paths(await ask({}))).toEqual(['species', 'zone'])
    expect(paths(await ask({ eggCase, species: 'creobroter-spp' }))).toEqual(['species'])
    expect(paths(await ask({ species: 'creobroter-spp' }))).toEqual(['zone'])
    expect(paths(await ask({ species: 'unicorn', zone: rack.zone }))).toEqual(['species'])
    const future = { species: 'creobroter-spp', zone: rack.zone, laidOn: rack.day(2) }
    expect(paths(await ask(future))).toEqual(['laidOn'])
    const other = await makeRack('Somebody else')
    expect((await ask({ eggCase }, other.token)).status).toBe(404)
    expect((await ask({ species: 'creobroter-spp', zone: rack.zone }, other.token)).status).toBe(404)
  })
})
