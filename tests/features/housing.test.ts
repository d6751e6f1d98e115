import { beforeAll, describe, expect, test } from 'vitest'
import { POST as MOVE_CLUTCH } from '@/app/api/v1/clutches/[id]/moves/route'
import { requireClutch } from '@/lib/features/clutch/data'
import { listContainerKinds } from '@/lib/features/container/data'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import { changesOf, growingOf, listHoused } from '@/lib/features/housing/data'
import { recordMovesUp } from '@/lib/features/housing/mutations'
import { requireIndividuals } from '@/lib/features/individual/data'
import { makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let box: string
let jar: string
beforeAll(async () => {
  rack = await makeRack('Housing')
  const kinds = await within(rack.owner, (tx, { workspaceId }) =>
    tx.containerKind.createManyAndReturn({
      data: [
        {
          workspaceId,
          name: 'Box',
          volumeMl: 6000,
          innerHeightMm: 300,
          innerWidthMm: 200,
          single: false,
          stock: 3,
        },
        {
          workspaceId,
          name: 'Jar',
          volumeMl: 1000,
          innerHeightMm: 165,
          innerWidthMm: 98,
          single: true,
          stock: 4,
        },
      ],
    }),
  )
  box = kinds[0]?.id ?? ''
  jar = kinds[1]?.id ?? ''
})

const put = (id: string, body: object, token = rack.token) =>
  callApi(MOVE_CLUTCH, { token, params: { id }, body: { on: rack.day(0), ...body } })

describe('siblings put into a box', () => {
  test('are in it from that day on, and one that was theirs before stands empty', async () => {
    const id = await makeClutch(rack, { hatched: 4, count: 30 })
    const first = await put(id, { containerKind: box, on: rack.day(-3) })
    expect(first).toMatchObject({ status: 201, body: { warnings: [], clutch: { id } } })
    expect((await put(id, { containerKind: box })).status).toBe(201)
    const stays = await within(rack.owner, (tx, { workspaceId }) =>
      tx.clutchHousing.findMany({
        where: { workspaceId, clutchId: id },
        include: { container: true },
        orderBy: { fromOn: 'asc' },
      }),
    )
    expect(stays.map(({ container }) => container && (container.emptiedOn ? 'empty' : 'in use'))).toEqual([
      null,
      'empty',
      'in use',
    ])
  })

  test('are counted as crowded from then on', async () => {
    const open = await makeClutch(rack, { hatched: 14, count: 200 })
    const tub = await within(rack.owner, (tx, { workspaceId }) =>
      tx.containerKind.create({
        data: {
          workspaceId,
          name: 'Tub',
          volumeMl: 800,
          innerHeightMm: 90,
          innerWidthMm: 90,
          single: false,
          stock: 2,
        },
      }),
    )
    const before = (await put(open, { zone: rack.zone })).body.clutch.separation.perDayNow
    const after = (await put(open, { containerKind: tub.id })).body.clutch.separation.perDayNow
    expect(after).toBeGreaterThan(before)
  })

  test('past their day are recorded with the reason, never refused, and stay late', async () => {
    const id = await makeClutch(rack, { hatched: 35, count: 60 })
    const answer = await put(id, { containerKind: box, overrideReason: 'no cups until Friday' })
    expect(answer.status).toBe(201)
    expect(answer.body.warnings.map(({ code }: { code: string }) => code)).toContain('past-due')
    expect(answer.body.clutch.separation.state).not.toBe('fine')
    const stay = await within(rack.owner, (tx, { workspaceId }) =>
      tx.clutchHousing.findFirst({ where: { workspaceId, clutchId: id, untilOn: null } }),
    )
    expect(stay).toMatchObject({ overrideReason: 'no cups until Friday' })
    expect(stay?.pastDueOn).not.toBeNull()
    const { stays } = await within(rack.owner, (tx, { workspaceId }) =>
      requireClutch(tx, workspaceId, { id }),
    )
    const shown = stays.find(({ until }) => until === null)
    expect(shown).toMatchObject({ overrideReason: 'no cups until Friday' })
    expect(shown?.pastDueOn).toMatch(/^\d{4}-\d\d-\d\d$/)
  })

  test('find no place in a cup for one, in a neighbour’s box, or before they hatched', async () => {
    const id = await makeClutch(rack, { hatched: 4, count: 30 })
    const other = await makeRack('Other boxes')
    expect((await put(id, { containerKind: rack.cup })).body.errors[0].path).toBe('containerKind')
    expect((await put(id, { containerKind: other.cup })).status).toBe(404)
    expect((await put(id, { containerKind: box, on: rack.day(-9) })).body.errors[0].path).toBe('on')
    expect((await put(id, { containerKind: box, on: rack.day(1) })).body.errors[0].path).toBe('on')
    expect((await put(id, {})).status).toBe(422)
    expect((await put(id, { containerKind: box }, await makeToken(rack.owner, 'counter'))).status).toBe(403)
  })
})

describe('animals that grow', () => {
  test('will want the container they need, and move into it together in one go', async () => {
    const grown = { species: 'tenodera-sinensis', count: 3, hatchedOn: rack.day(-50), moults: 3 }
    const nymphs = await makeNymphs(rack, { ...grown, partedOn: rack.day(-8), lastMoultOn: rack.day(-8) })
    const changes = await within(rack.owner, async (tx, workspace) => {
      const ground = await loadForecastGround(tx, workspace)
      const kinds = await listContainerKinds(tx, workspace.workspaceId)
      const animals = growingOf(await listHoused(tx, workspace.workspaceId), { ground, kinds, workspace })
      return changesOf(animals, { ground, kinds, until: rack.day(28) })
    })
    const first = changes.filter(({ fromKindId }) => fromKindId === rack.cup)
    expect(first.length).toBe(3)
    expect(first.every(({ toKindId, animals }) => toKindId === jar && animals === 1)).toBe(true)
    const moves = nymphs.map(({ id }) => ({ individual: id, containerKind: jar }))
    const { warnings } = await within(rack.owner, (tx, workspace) =>
      recordMovesUp(tx, workspace, { on: rack.today, moves }),
    )
    expect(warnings).toEqual([])
    const after = await within(rack.owner, (tx, { workspaceId }) =>
      requireIndividuals(
        tx,
        workspaceId,
        nymphs.map(({ id }) => id),
      ),
    )
    expect(after.map(({ stays }) => stays.at(-1)?.kindId)).toEqual([jar, jar, jar])
    expect(after.map(({ stays }) => stays.at(-2)?.until)).toEqual([rack.today, rack.today, rack.today])
  })

  test('into more jars than there are is recorded with a warning', async () => {
    const nymphs = await makeNymphs(rack, { count: 6, hatchedOn: rack.day(-30), moults: 1 })
    const { warnings } = await within(rack.owner, (tx, workspace) =>
      recordMovesUp(tx, workspace, {
        on: rack.today,
        moves: nymphs.map(({ id }) => ({ individual: id, containerKind: jar })),
      }),
    )
    expect(warnings.map(({ code }) => code)).toEqual(['no-free-container'])
  })

  test('are of no interest where they already have room for the adult', async () => {
    const room = await makeRack('Roomy')
    const cage = {
      name: 'Cage',
      volumeMl: 9000,
      innerHeightMm: 400,
      innerWidthMm: 300,
      single: true,
      stock: 9,
    }
    const [animal] = await makeNymphs(room, { count: 1, hatchedOn: room.day(-20), moults: 1 })
    const list = () =>
      within(room.owner, async (tx, workspace) => {
        const ground = await loadForecastGround(tx, workspace)
        const kinds = await listContainerKinds(tx, workspace.workspaceId)
        return growingOf(await listHoused(tx, workspace.workspaceId), { ground, kinds, workspace })
      })
    expect(await list()).toHaveLength(1)
    await within(room.owner, async (tx, workspace) => {
      const { id } = await tx.containerKind.create({ data: { workspaceId: workspace.workspaceId, ...cage } })
      await recordMovesUp(tx, workspace, {
        on: room.today,
        moves: [{ individual: animal?.id ?? '', containerKind: id }],
      })
    })
    expect(await list()).toHaveLength(0)
  })
})

test('an animal of whom nobody knows where it stands still asks for the container it lacks', async () => {
  const lost = await makeRack('Lost cups')
  const [nymph] = await makeNymphs(lost, { count: 1, hatchedOn: lost.day(-30), partedOn: lost.day(-20) })
  const changes = await within(lost.owner, async (tx, workspace) => {
    const { workspaceId } = workspace
    await tx.housing.updateMany({
      where: { workspaceId, individualId: String(nymph?.id) },
      data: { untilOn: new Date(`${lost.day(-10)}T00:00:00Z`) },
    })
    const rows = await listHoused(tx, workspaceId)
    const kinds = await listContainerKinds(tx, workspaceId)
    const ground = await loadForecastGround(tx, workspace, { animals: rows })
    const animals = growingOf(rows, { kinds, ground, workspace })
    expect(animals).toHaveLength(1)
    return changesOf(animals, { ground, kinds, until: lost.day(28) })
  })
  expect(changes).toMatchObject([{ on: lost.today, fromKindId: null, animals: 1 }])
})
