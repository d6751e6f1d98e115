import { beforeAll, describe, expect, it } from 'vitest'
import { POST as moveClutch } from '@/app/api/v1/clutches/[id]/moves/route'
import { GET as loadClutch } from '@/app/api/v1/clutches/[id]/route'
import { POST as count } from '@/app/api/v1/colonies/[id]/counts/route'
import { POST as enter } from '@/app/api/v1/colonies/[id]/entries/route'
import { POST as create, GET as list } from '@/app/api/v1/colonies/route'
import { GET as listContainers } from '@/app/api/v1/containers/route'
import { POST as createEggCase } from '@/app/api/v1/egg-cases/route'
import { listClutchesInColony, requireColony } from '@/lib/features/colony/data'
import { archiveColony, recordColonyMove } from '@/lib/features/colony/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { updateColonyRule } from '@/lib/features/species/mutations'
import { createZone } from '@/lib/features/zone/mutations'
import { makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

const GHOST = 'phyllocrania-paradoxa'

let rack: Rack
let box: string
beforeAll(async () => {
  rack = await makeRack('Colony lane')
  box = await within(rack.owner, async (tx, { workspaceId }) => {
    const measures = { volumeMl: 12_000, innerHeightMm: 300, innerWidthMm: 200, single: false, stock: 50 }
    return (await tx.containerKind.create({ data: { workspaceId, name: 'Window cage', ...measures } })).id
  })
})

const call = (handler: Parameters<typeof callApi>[0], body?: unknown, params?: Record<string, string>) =>
  callApi(handler, { token: rack.token, body, params })

let made = 0
async function makeColony(more: Record<string, unknown> = {}) {
  const body = {
    name: `Cage ${++made}`,
    species: GHOST,
    containerKind: box,
    zone: rack.zone,
    on: rack.day(-60),
  }
  return call(create, { ...body, ...more })
}

const ghosts = (count: number, hatched = 30) => makeClutch(rack, { species: GHOST, count, hatched })
const put = (colony: string, clutch: string, more: Record<string, unknown> = {}) =>
  call(enter, { clutch, on: rack.day(-5), leastMoults: 3, mostMoults: 3, ...more }, { id: colony })

describe('a colony', () => {
  it('holds several clutches of a species whose care profile allows it', async () => {
    const { status, body } = await makeColony()
    expect(status).toBe(201)
    const [first, second] = [await ghosts(10), await ghosts(8)]
    expect((await put(body.colony.id, first)).body).toMatchObject({ warnings: [] })
    const both = await put(body.colony.id, second, { on: rack.day(-4), leastMoults: 3, mostMoults: 4 })
    expect(both.status).toBe(201)
    expect(both.body.colony.clutches.map((clutch: { together: number }) => clutch.together)).toEqual([10, 8])
    // 3 × 24.2 mm at four moults (males, who make fewer): 31 to twelve litres.
    expect(both.body.colony.capacity).toBe(31)
    const listed = await call(list)
    expect(listed.body.items.map(({ id }: { id: string }) => id)).toContain(body.colony.id)
    const containers = await call(listContainers)
    const own = containers.body.items.find(({ id }: { id: string }) => id === body.colony.container)
    expect(own).toMatchObject({ colony: body.colony.id, clutch: null })
  })

  it('is refused where the profile says apart, until a workspace says otherwise in its own', async () => {
    const flower = 'creobroter-spp'
    const refused = await makeColony({ species: flower })
    expect([refused.status, refused.body.errors[0].path]).toEqual([422, 'species'])
    await allow(flower, true)
    const { body } = await makeColony({ species: flower })
    const clutch = await makeClutch(rack, { count: 6, hatched: 30 })
    await allow(flower, false)
    // Whoever asks past the form is told by the database.
    const late = await put(body.colony.id, clutch)
    expect([late.status, late.body.detail]).toEqual([
      422,
      'By its care profile this species does not live together.',
    ])
    await allow(flower, true)
    expect((await put(body.colony.id, clutch)).status).toBe(201)
  })

  it('takes nobody of another species', async () => {
    const { body } = await makeColony()
    const said = await put(body.colony.id, await makeClutch(rack, { count: 5 }))
    expect([said.status, said.body.detail]).toEqual([
      422,
      'A colony is of one species, and this clutch is of another.',
    ])
  })

  it('takes nobody more than one instar from those inside, whatever reason is given', async () => {
    const { body } = await makeColony()
    await put(body.colony.id, await ghosts(5))
    const third = await ghosts(5)
    const far = await put(body.colony.id, third, {
      leastMoults: 5,
      mostMoults: 5,
      overrideReason: 'always did',
    })
    expect([far.status, far.body.type]).toEqual([409, '/problems/container-taken'])
    const wide = await put(body.colony.id, third, { leastMoults: 3, mostMoults: 5 })
    expect(wide.status).toBe(409)
    // Counted since: they have grown, and now it is the others who are too small.
    const grown = await call(
      count,
      { on: rack.day(-3), lines: [{ sex: 'female', moults: 5, animals: 5 }] },
      { id: body.colony.id },
    )
    expect(grown.status).toBe(201)
    const later = { on: rack.day(-2) }
    expect((await put(body.colony.id, third, { ...later, leastMoults: 3, mostMoults: 3 })).status).toBe(409)
    expect((await put(body.colony.id, third, { ...later, leastMoults: 5, mostMoults: 6 })).status).toBe(201)
  })

  it('records that it is crowded with the reason, and refuses nothing for it', async () => {
    const { body } = await makeColony()
    const said = await put(body.colony.id, await ghosts(90), {
      overrideReason: 'the large cage comes on Monday',
    })
    expect(said.status).toBe(201)
    expect(said.body.warnings.map(({ code }: { code: string }) => code)).toEqual(['too-many'])
    const row = await within(rack.owner, (tx, { workspaceId }) =>
      requireColony(tx, workspaceId, body.colony.id),
    )
    expect(row.members[0]).toMatchObject({ overrideReason: 'the large cage comes on Monday' })
    expect(row.members[0]?.tooMany).toBeGreaterThan(0)
  })

  it('has no day by which they must be apart, and its clutches leave it like any others', async () => {
    const { body } = await makeColony()
    const clutch = await ghosts(5)
    await put(body.colony.id, clutch)
    expect((await call(loadClutch, undefined, { id: clutch })).body.separation.dueOn).toBeNull()
    const along = await call(moveClutch, { on: rack.today, zone: rack.zone }, { id: clutch })
    expect(along.status).toBe(422)
    const out = await call(moveClutch, { on: rack.today, containerKind: box }, { id: clutch })
    expect(out.status).toBe(201)
    const row = await within(rack.owner, (tx, { workspaceId }) =>
      requireColony(tx, workspaceId, body.colony.id),
    )
    expect(row.members).toEqual([])
    const container = await within(rack.owner, (tx, { workspaceId }) =>
      tx.container.findUniqueOrThrow({ where: { workspaceId_id: { workspaceId, id: row.containerId } } }),
    )
    expect(container.emptiedOn).toBeNull()
  })
})

describe('a count of a colony', () => {
  it('is by sex and instar, and takes the place of one of the same day', async () => {
    const { body } = await makeColony()
    await put(body.colony.id, await ghosts(9))
    const lines = [
      { sex: 'male', moults: 3, animals: 4 },
      { sex: 'female', adult: true, animals: 3 },
    ]
    const first = await call(count, { on: rack.today, lines }, { id: body.colony.id })
    expect(first.body.warnings.map(({ code }: { code: string }) => code)).toEqual([
      'stages-apart',
      'count-differs',
    ])
    const again = await call(
      count,
      { on: rack.today, lines: [{ sex: 'unsexed', moults: 4, animals: 9 }] },
      { id: body.colony.id },
    )
    expect(again.body.warnings).toEqual([])
    expect(again.body.colony.counted).toEqual({
      on: rack.today,
      lines: [{ sex: 'unsexed', moults: 4, adult: false, animals: 9 }],
    })
  })

  it('refuses a line that stands there twice, and a stage nobody has named', async () => {
    const { body } = await makeColony()
    const twice = { sex: 'male', moults: 3, animals: 1 }
    const said = await call(count, { on: rack.today, lines: [twice, twice] }, { id: body.colony.id })
    expect([said.status, said.body.errors[0].path]).toEqual([422, 'lines.1.sex'])
    const bare = await call(
      count,
      { on: rack.today, lines: [{ sex: 'male', animals: 1 }] },
      { id: body.colony.id },
    )
    expect([bare.status, bare.body.errors[0].path]).toEqual([422, 'lines.0.moults'])
  })
})

describe('an egg case found in a colony', () => {
  it('has its parents among the clutches that lived there on that day', async () => {
    const { body } = await makeColony()
    const [first, second] = [await ghosts(4), await ghosts(4)]
    await put(body.colony.id, first, { on: rack.day(-9) })
    await put(body.colony.id, second, { on: rack.day(-1) })
    const laid = { species: GHOST, zone: rack.zone, laidOn: rack.day(-4), colony: body.colony.id }
    const made = await call(createEggCase, laid)
    expect(made.body).toMatchObject({ colony: body.colony.id, mother: null })
    const candidates = await within(rack.owner, (tx, { workspaceId }) =>
      listClutchesInColony(tx, workspaceId, {
        colonyId: body.colony.id,
        from: laid.laidOn,
        until: laid.laidOn,
      }),
    )
    expect(candidates.map(({ id }) => id)).toEqual([first])
    const other = await call(createEggCase, { ...laid, species: 'creobroter-spp' })
    expect([other.status, other.body.errors[0].path]).toEqual([422, 'colony'])
  })
})

describe('a colony that goes elsewhere', () => {
  it('takes everybody along, and is closed only when nobody lives in it', async () => {
    const { body } = await makeColony()
    const clutch = await ghosts(4)
    await put(body.colony.id, clutch)
    const actor = { scope: rack.owner }
    const attic = await within(rack.owner, async (tx, workspace) => {
      const { id } = await createZone(tx, workspace, { name: 'Attic', setTemperatureC: 24 })
      const move = { colony: body.colony.id, zone: id, on: rack.day(-1) }
      await recordColonyMove(tx, { ...actor, workspace }, move)
      return id
    })
    const row = await within(rack.owner, (tx, { workspaceId }) =>
      requireColony(tx, workspaceId, body.colony.id),
    )
    expect([row.zoneId, row.members.length]).toEqual([attic, 1])
    const close = () =>
      within(rack.owner, (tx, workspace) =>
        archiveColony(tx, { ...actor, workspace }, { colony: row.id, version: row.version, on: rack.today }),
      )
    await expect(close()).rejects.toThrow(/4 of C-\d+ live in it/)
    await call(moveClutch, { on: rack.today, containerKind: box }, { id: clutch })
    await close()
    const again = await put(row.id, clutch, { on: rack.today })
    expect([again.status, again.body.detail]).toEqual([409, 'This colony is closed.'])
  })
})

async function allow(species: string, allows: boolean): Promise<void> {
  await within(rack.owner, async (tx, { workspaceId }) => {
    const found = await requireSpecies(tx, workspaceId, species)
    const on = found.profileNumber ?? 0
    await updateColonyRule(tx, workspaceId, { species: found, allows, note: 'kept so for years', on })
  })
}
