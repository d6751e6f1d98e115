import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { individualCode } from '@/lib/domain/label/code'
import { isReserved } from '@/lib/domain/label/run'
import { loadStanding } from '@/lib/features/bench/loaders'
import { recordBenchOperations } from '@/lib/features/bench/mutations'
import { requireClutch } from '@/lib/features/clutch/data'
import { listRunAnimals, requireSeparation } from '@/lib/features/separation/data'
import { createSeparation, type StartedRun } from '@/lib/features/separation/mutations'
import type { QueueAnswer } from '@/lib/platform/device-queue'
import { listOwnScopes } from '@/lib/platform/own-scopes'
import type { Scope } from '@/lib/platform/workspace'
import { headCountOf, makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { makeMember, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('The bench')
})

type Bench = { clutch: string; run: StartedRun }

async function openBench(hatching: Parameters<typeof makeClutch>[1], planned = 20): Promise<Bench> {
  const clutch = await makeClutch(rack, hatching)
  const asked = { clutch, containerKind: rack.cup, zone: rack.zone, on: rack.day(0), planned }
  const { value } = await within(rack.owner, (tx, workspace) =>
    createSeparation(tx, { scope: rack.owner, workspace }, asked),
  )
  return { clutch, run: value }
}

type Tap = { kind: string; payload?: object; undoes?: string; id?: string; on?: string; personId?: string }

const tap = ({ run }: Bench, { kind, payload, ...rest }: Tap) => ({
  id: randomUUID(),
  workspaceId: rack.owner.workspaceId,
  personId: rack.owner.personId,
  run: run.id,
  kind,
  payload: payload ?? {},
  on: rack.day(0),
  tappedAt: new Date().toISOString(),
  v: 1,
  ...rest,
})
const cup = (bench: Bench, number?: number) =>
  tap(bench, { kind: 'cup', payload: { containerKind: rack.cup, moults: 1, ...(number ? { number } : {}) } })

const person = () => ({ personId: String(rack.owner.personId), scopes: [rack.owner] })
const send = (operations: unknown[]) => recordBenchOperations(person(), operations)
const statuses = (answers: QueueAnswer[]) =>
  answers.map((answer) => (answer.status === 'refused' ? answer.code : answer.status))
const animalsOf = ({ run }: Bench) =>
  within(rack.owner, (tx, { workspaceId }) => listRunAnimals(tx, workspaceId, run.id))
const sightingsOf = ({ clutch }: Bench) =>
  within(
    rack.owner,
    async (tx, { workspaceId }) => (await requireClutch(tx, workspaceId, { id: clutch })).sightings,
  )

describe('a run at the bench', () => {
  test('ends with how many hang, counted again as often as one likes, and with nobody where none do', async () => {
    const bench = await openBench({ count: 30, hatched: 9 })
    const hang = (count: number) => tap(bench, { kind: 'hanging', payload: { count, moults: 1 } })
    const seenNow = () => sightingsOf(bench)
    const again = hang(12)
    expect(statuses(await send([cup(bench), hang(7), again, tap(bench, { kind: 'finish' })]))).toEqual(
      Array.from({ length: 4 }, () => 'applied'),
    )
    expect(statuses(await send([again]))).toEqual(['already-applied'])
    expect(await seenNow()).toMatchObject([{ hanging: 12, moulted: null, number: 2, on: rack.day(0) }])
    await send([hang(0)])
    expect(await seenNow()).toEqual([])
  })

  test('tells a second device how many were seen hanging, at once and whenever that changes', async () => {
    const bench = await openBench({ count: 30, hatched: 9 })
    const keeper = await makeMember(rack.owner, 'keeper')
    const standing = (known: { seen?: string; hanging?: number } = {}) =>
      within(rack.owner, (tx, workspace) => loadStanding(tx, workspace, { run: bench.run.id, ...known }))
    const hang = (count: number, who: Scope = rack.owner) => ({
      ...tap(bench, { kind: 'hanging', payload: { count, moults: 1 } }),
      personId: who.personId,
    })
    const before = await standing()
    expect(before?.hanging).toBe(0)
    await send([hang(7)])
    // Nobody was moved, so the ledger has nothing new; an older build that does not ask goes on as before.
    expect(await standing({ seen: String(before?.seen) })).toBeNull()
    expect(await standing({ seen: String(before?.seen), hanging: 0 })).toMatchObject({ hanging: 7 })
    expect(await standing({ seen: String(before?.seen), hanging: 7 })).toBeNull()
    const beside = { personId: String(keeper.personId), scopes: [keeper] }
    expect(statuses(await recordBenchOperations(beside, [hang(9, keeper)]))).toEqual(['applied'])
    expect(await standing({ seen: String(before?.seen), hanging: 7 })).toMatchObject({ hanging: 9 })
    expect(await sightingsOf(bench)).toMatchObject([{ hanging: 9 }])
    await recordBenchOperations(beside, [hang(0, keeper)])
    expect((await standing())?.hanging).toBe(0)
  })

  test('sets label numbers aside, and each cup gets the one that was written on it', async () => {
    const bench = await openBench({ count: 30 }, 10)
    const { firstNumber, reserved } = bench.run
    expect(reserved).toBeGreaterThan(10)
    expect(isReserved(firstNumber + reserved, { first: firstNumber, planned: 10 })).toBe(false)
    const taps = [cup(bench, firstNumber), cup(bench, firstNumber + 1), cup(bench)]
    expect(statuses(await send(taps))).toEqual(['applied', 'applied', 'applied'])
    const labels = (await animalsOf(bench)).map(({ label }) => label)
    const key = await within(rack.owner, async (_, { labelKey }) => String(labelKey))
    expect(labels.slice(0, 2)).toEqual([
      individualCode(firstNumber, key),
      individualCode(firstNumber + 1, key),
    ])
    expect(new Set(labels).size).toBe(3)
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({ together: 27, single: 3, sums: true })
  })

  test('gives a number that was used already, or that is not of the run, to nobody else', async () => {
    const bench = await openBench({ count: 30 }, 10)
    const { firstNumber } = bench.run
    await send([cup(bench, firstNumber), cup(bench, firstNumber), cup(bench, 999_999)])
    const labels = (await animalsOf(bench)).map(({ label }) => label)
    expect(new Set(labels).size).toBe(3)
  })

  test('records dead and escaped beside the cups', async () => {
    const bench = await openBench({ count: 10 })
    const taps = [cup(bench), tap(bench, { kind: 'dead' }), tap(bench, { kind: 'escaped' }), cup(bench)]
    expect(statuses(await send(taps))).toEqual(['applied', 'applied', 'applied', 'applied'])
    const count = await headCountOf(rack, bench.clutch)
    expect(count).toMatchObject({ together: 6, single: 2, dead: 1, escaped: 1, sums: true })
  })

  test('takes back the operation that is named, and frees its cup', async () => {
    const bench = await openBench({ count: 10 })
    const [first, second, dead] = [cup(bench), cup(bench), tap(bench, { kind: 'dead' })]
    await send([first, second, dead])
    const undo = [
      tap(bench, { kind: 'undo', undoes: first.id }),
      tap(bench, { kind: 'undo', undoes: dead.id }),
    ]
    expect(statuses(await send(undo))).toEqual(['applied', 'applied'])
    const count = await headCountOf(rack, bench.clutch)
    expect(count).toMatchObject({ together: 9, single: 1, dead: 0, sums: true })
    expect(await animalsOf(bench)).toHaveLength(1)
    const inUse = await within(rack.owner, (tx, { workspaceId }) =>
      tx.housing.count({ where: { workspaceId, untilOn: null, individual: { clutchId: bench.clutch } } }),
    )
    expect(inUse).toBe(1)
    const again = tap(bench, { kind: 'undo', undoes: first.id })
    expect(statuses(await send([again]))).toEqual(['already-reversed'])
  })

  test('of an "about" clutch never refuses a cup: the count rises, and an undone cup lowers it again', async () => {
    const bench = await openBench({ about: { low: 2, likely: 3, high: 4 } })
    const taps = Array.from({ length: 6 }, () => cup(bench))
    expect(statuses(await send(taps))).toEqual(Array(6).fill('applied'))
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({ hatched: 6, single: 6, sums: true })
    await send([tap(bench, { kind: 'undo', undoes: taps[5]?.id })])
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({ hatched: 5, single: 5, sums: true })
  })

  test('of a counted clutch keeps what is too many for a correction, and later entries wait behind it', async () => {
    const bench = await openBench({ count: 2 })
    const beside = await openBench({ count: 5 })
    const [first, second, third, fourth] = [cup(bench), cup(bench), cup(bench), tap(bench, { kind: 'dead' })]
    const answers = await send([first, second, third, fourth, cup(beside)])
    expect(statuses(answers)).toEqual(['applied', 'applied', 'more-than-left', 'held-back', 'applied'])
    expect(answers[2]).toMatchObject({ present: { headCount: { together: 0, single: 2 } } })
    const raise = tap(bench, { kind: 'raise', payload: { count: 2 } })
    expect(statuses(await send([raise, third, fourth]))).toEqual(['applied', 'applied', 'applied'])
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({
      hatched: 4,
      single: 3,
      dead: 1,
      sums: true,
    })
  })

  test('finished with nobody left together has counted an "about" clutch', async () => {
    const bench = await openBench({ about: { low: 2, likely: 3, high: 5 } })
    await send([cup(bench), cup(bench), cup(bench), tap(bench, { kind: 'finish' })])
    await within(rack.owner, async (tx, { workspaceId }) => {
      expect((await requireClutch(tx, workspaceId, { id: bench.clutch })).counted).toBe(true)
      expect((await requireSeparation(tx, workspaceId, bench.run.id)).isFinished).toBe(true)
    })
  })
})

describe('entries that arrive more than once', () => {
  test('have one effect, and the second answer names the same label', async () => {
    const bench = await openBench({ count: 10 })
    const once = cup(bench)
    const [first] = await send([once])
    const [second] = await send([once])
    expect(second).toMatchObject({
      status: 'already-applied',
      label: first && 'label' in first ? first.label : '?',
    })
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({ single: 1, sums: true })
  })

  test('in eight sendings at the same time have one effect', async () => {
    const bench = await openBench({ count: 40 })
    const cups = Array.from({ length: 12 }, (_, index) => cup(bench, bench.run.firstNumber + index))
    const taps = [...cups, tap(bench, { kind: 'dead' }), tap(bench, { kind: 'undo', undoes: cups[3]?.id })]
    const sendings = await Promise.all(Array.from({ length: 8 }, () => send(taps)))
    for (const index of taps.keys()) {
      const seen = sendings.map((answers) => answers[index]?.status)
      expect(seen.filter((status) => status === 'applied')).toHaveLength(1)
      expect(seen.filter((status) => status === 'already-applied')).toHaveLength(7)
    }
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({
      together: 28,
      single: 11,
      dead: 1,
      sums: true,
    })
    expect(await animalsOf(bench)).toHaveLength(11)
  })

  test('under one id with another content are refused', async () => {
    const bench = await openBench({ count: 10 })
    const once = tap(bench, { kind: 'dead' })
    await send([once])
    expect(statuses(await send([{ ...once, kind: 'escaped' }]))).toEqual(['key-reused'])
  })
})

describe('whose entries they are', () => {
  test('is looked up by the workspace’s id, and ends with the membership', async () => {
    const keeper = await makeMember(rack.owner, 'keeper')
    const [scope] = await listOwnScopes(String(keeper.personId))
    expect(scope).toMatchObject({ workspaceId: rack.owner.workspaceId, role: 'keeper' })
    await within(rack.owner, (tx, { workspaceId }) =>
      tx.membership.updateMany({
        where: { workspaceId, personId: String(keeper.personId) },
        data: { endedAt: new Date() },
      }),
    )
    expect(await listOwnScopes(String(keeper.personId))).toEqual([])
  })

  test('tapped by somebody else are kept and never recorded under the wrong name', async () => {
    const bench = await openBench({ count: 10 })
    const keeper = await makeMember(rack.owner, 'keeper')
    expect(statuses(await send([tap(bench, { kind: 'dead', personId: String(keeper.personId) })]))).toEqual([
      'forbidden',
    ])
    expect(await headCountOf(rack, bench.clutch)).toMatchObject({ dead: 0 })
  })

  test('of a workspace one does not belong to, or may not write in, are refused', async () => {
    const bench = await openBench({ count: 10 })
    const other = await makeRack('Another breeder')
    const stranger = { ...person(), scopes: [other.owner] }
    const taps = [tap(bench, { kind: 'dead' })]
    expect(statuses(await recordBenchOperations(stranger, taps))).toEqual(['not-found'])
    const smuggled = [{ ...tap(bench, { kind: 'dead' }), workspaceId: other.owner.workspaceId }]
    expect(statuses(await recordBenchOperations(stranger, smuggled))).toEqual(['not-found'])
    const counter = { ...person(), scopes: [{ ...rack.owner, role: 'counter' as const }] }
    expect(statuses(await recordBenchOperations(counter, taps))).toEqual(['forbidden'])
  })

  test('that nobody can read, of tomorrow, or before the hatch are refused one by one', async () => {
    const bench = await openBench({ count: 10, hatched: 3 })
    const beside = await openBench({ count: 10 })
    const answers = await send([
      { ...tap(bench, { kind: 'dead' }), v: 99 },
      tap(beside, { kind: 'dead', on: rack.day(1) }),
      { nonsense: true },
    ])
    expect(statuses(answers)).toEqual(['invalid', 'invalid', 'invalid'])
    expect(statuses(await send([tap(bench, { kind: 'dead', on: rack.day(-4) })]))).toEqual(['invalid'])
  })
})
