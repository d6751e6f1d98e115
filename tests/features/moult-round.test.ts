import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { requireIndividual } from '@/lib/features/individual/data'
import { listLastLooks } from '@/lib/features/look/data'
import { recordLooks } from '@/lib/features/look/mutations'
import { listMoultRounds } from '@/lib/features/moult/data'
import { archiveMoultRound, recordMoults, recordRoundShelf } from '@/lib/features/moult/mutations'
import { type RoundShelf, readNewMoults, roundShelfSchema } from '@/lib/features/moult/schema'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Round room')
  other = await makeRack('Neighbour')
})

const nymphs = (count: number) =>
  makeNymphs(rack, {
    count,
    hatchedOn: rack.day(-30),
    partedOn: rack.day(-20),
    moults: 1,
    lastMoultOn: rack.day(-21),
  })
const idsOf = (animals: Nymph[]) => animals.map(({ id }) => id)
type Typed = Partial<RoundShelf> | Record<string, unknown>
const walk = (shelf: Typed, owner = rack.owner) =>
  within(owner, (tx, workspace) =>
    recordRoundShelf(
      tx,
      { scope: owner, workspace },
      roundShelfSchema.parse({ round: randomUUID(), on: rack.today, skins: [], passed: [], ...shelf }),
    ),
  )
const takeBack = (round: string, owner = rack.owner) =>
  within(owner, (tx, workspace) => archiveMoultRound(tx, { scope: owner, workspace }, { round }))
const look = (animals: Nymph[], offset: number) =>
  within(rack.owner, (tx, workspace) =>
    recordLooks(tx, { scope: rack.owner, workspace }, { on: rack.day(offset), individuals: idsOf(animals) }),
  )
const load = (animal: Nymph) =>
  within(rack.owner, (tx, { workspaceId }) => requireIndividual(tx, workspaceId, animal.id))
const lastLooks = () => within(rack.owner, (tx, { workspaceId }) => listLastLooks(tx, workspaceId))
const rounds = () => within(rack.owner, (tx, { workspaceId }) => listMoultRounds(tx, workspaceId, 50))

describe('a shelf of a moult round', () => {
  test('keeps what cups without a skin showed, and takes it back with the round', async () => {
    const [budding, quiet] = await nymphs(2)
    if (!budding || !quiet) throw new Error('two nymphs')
    const signs = [
      { individual: budding.id, sign: 'wing_buds' },
      { individual: budding.id, sign: 'refuses_food' },
    ]
    const { value, warnings } = await walk({ passed: [budding.id, quiet.id], signs })
    expect(value).toMatchObject({ looks: 2, moults: 0 })
    expect(warnings).toMatchObject([{ code: 'early-wing-buds' }])
    expect((await load(budding)).signs).toEqual([
      { kind: 'refuses_food', on: rack.today },
      { kind: 'wing_buds', on: rack.today },
    ])
    expect((await load(quiet)).signs).toEqual([])
    await takeBack(value.round)
    expect((await load(budding)).signs).toEqual([])
  })

  test('makes moults of the skins and looks of all other cups', async () => {
    const [shed, quiet, late] = await nymphs(3)
    if (!shed || !quiet || !late) throw new Error('three nymphs')
    await look([shed, quiet, late], -4)
    const { value } = await walk({ skins: [{ individual: shed.id }], passed: [quiet.id, late.id] })
    expect(value).toMatchObject({ looks: 3, moults: 1 })
    expect((await load(shed)).moults).toMatchObject([{ number: 2, on: rack.today, seenFrom: rack.day(-4) }])
    expect((await load(quiet)).moults).toEqual([])
    expect((await lastLooks()).get(quiet.id)).toBe(rack.today)
  })

  test('sees a skin after a long silence as one of any day since the last look', async () => {
    const [shed] = await nymphs(1)
    if (!shed) throw new Error('a nymph')
    await look([shed], -18)
    await walk({ skins: [{ individual: shed.id }] })
    expect((await load(shed)).moults).toMatchObject([{ seenFrom: rack.day(-18) }])
  })

  test('takes a day that was typed over the one of the last look', async () => {
    const [shed] = await nymphs(1)
    if (!shed) throw new Error('a nymph')
    await look([shed], -6)
    await walk({ skins: [{ individual: shed.id, seenFrom: rack.day(-1), outcome: 'bad' }] })
    expect((await load(shed)).moults).toMatchObject([{ seenFrom: rack.day(-1), outcome: 'bad' }])
  })

  test('is kept whole or not at all, with the mistake at its own cup', async () => {
    const [one, adult, seen] = await nymphs(3)
    if (!one || !adult || !seen) throw new Error('three nymphs')
    await within(rack.owner, (tx, workspace) =>
      recordMoults(
        tx,
        workspace,
        readNewMoults({ individuals: [adult.id], on: rack.day(-3), outcome: 'good', final: true, note: '' }),
      ),
    )
    const attempt = walk({ skins: [{ individual: one.id }, { individual: adult.id }], passed: [seen.id] })
    await expect(attempt).rejects.toMatchObject({
      code: 'invalid',
      fields: [{ path: 'skins.1.on', message: expect.stringMatching(/adults do not moult/) }],
    })
    expect((await load(one)).moults).toEqual([])
    expect((await lastLooks()).has(seen.id)).toBe(false)
  })

  test('leaves out an animal that somebody else let go meanwhile, and says so', async () => {
    const [here, gone] = await nymphs(2)
    if (!here || !gone) throw new Error('two nymphs')
    await within(rack.owner, (tx, { workspaceId }) =>
      tx.headCountEntry.create({
        data: {
          workspaceId,
          clutchId: gone.clutchId,
          individualId: gone.id,
          from: 'single',
          to: 'dead',
          count: 1,
          on: new Date(rack.day(-2)),
        },
      }),
    )
    const { value, warnings } = await walk({ passed: [here.id, gone.id] })
    expect(value.looks).toBe(1)
    expect(warnings).toMatchObject([{ code: 'not-there' }])
  })

  test('of a round that was begun on another day, taken back, or lies ahead is refused', async () => {
    const [nymph] = await nymphs(1)
    const passed = [nymph!.id]
    const round = randomUUID()
    await walk({ round, passed, on: rack.day(-1) })
    await expect(walk({ round, passed })).rejects.toMatchObject({ fields: [{ path: 'on' }] })
    await expect(walk({ passed, on: rack.day(1) })).rejects.toMatchObject({ fields: [{ path: 'on' }] })
    await takeBack(round)
    await expect(walk({ round, passed, on: rack.day(-1) })).rejects.toMatchObject({ code: 'stale' })
  })

  test('knows no animal of a neighbour', async () => {
    const [nymph] = await nymphs(1)
    await expect(walk({ passed: [nymph!.id] }, other.owner)).rejects.toMatchObject({ code: 'not-found' })
    await expect(walk({ skins: [{ individual: nymph!.id }] }, other.owner)).rejects.toMatchObject({
      code: 'not-found',
    })
  })
})

describe('a moult round', () => {
  test('of several shelves is finished by its last one', async () => {
    const [a, b, c] = await nymphs(3)
    const round = randomUUID()
    await walk({ round, passed: [a!.id] })
    expect(await rounds()).toContainEqual(expect.objectContaining({ id: round, isFinished: false, looks: 1 }))
    await walk({ round, passed: [b!.id], skins: [{ individual: c!.id }], isLast: true })
    expect(await rounds()).toContainEqual(
      expect.objectContaining({ id: round, isFinished: true, looks: 3, moults: 1 }),
    )
  })

  test('is taken back whole: no look of it counts, no moult of it stands', async () => {
    const [shed, quiet] = await nymphs(2)
    const round = randomUUID()
    await look([quiet!], -5)
    await walk({ round, skins: [{ individual: shed!.id, final: true }], passed: [quiet!.id] })
    expect((await load(shed!)).adultSinceOn).toBe(rack.today)
    await expect(takeBack(round, other.owner)).rejects.toMatchObject({ code: 'not-found' })
    await takeBack(round)
    expect(await load(shed!)).toMatchObject({ moults: [], adultSinceOn: null })
    expect((await lastLooks()).get(quiet!.id)).toBe(rack.day(-5))
    expect((await rounds()).map(({ id }) => id)).not.toContain(round)
    await expect(takeBack(round)).rejects.toMatchObject({ code: 'already-reversed' })
  })

  test('can be walked anew on the day it was taken back', async () => {
    const [quiet] = await nymphs(1)
    const first = randomUUID()
    await walk({ round: first, passed: [quiet!.id] })
    await takeBack(first)
    await walk({ passed: [quiet!.id] })
    expect((await lastLooks()).get(quiet!.id)).toBe(rack.today)
  })
})
