import { describe, expect, test } from 'vitest'
import { GET } from '@/app/api/v1/today/route'
import { recordLeaving } from '@/lib/features/departure/mutations'
import { leavingFormSchema } from '@/lib/features/departure/schema'
import { makeClutch, makeEggCase } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { type Answer, callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

const today = (rack: Rack, query = '') => callApi(GET, { token: rack.token, query })
type Item = {
  kind: string
  state: string
  why: string
  clutch: string | null
  eggCase: string | null
  individuals: string[]
}
const items = (answer: Answer): Item[] => answer.body.items
const kinds = (answer: Answer) => items(answer).map(({ kind, state }) => `${kind} ${state}`)

describe('the day sheet', () => {
  test('of a new workspace is empty', async () => {
    const rack = await makeRack('Nothing yet')
    expect((await today(rack)).body).toEqual({ on: rack.day(0), items: [] })
  })

  test('begins with what cannot be made good again', async () => {
    const rack = await makeRack('A busy evening')
    const eggCase = await makeEggCase(rack, { laid: 38 })
    const costly = await makeClutch(rack, { count: 90, hatched: 40 })
    const late = await makeClutch(rack, { count: 40, hatched: 40 })
    await makeClutch(rack, { count: 40, hatched: 1 })
    const [soft] = await makeNymphs(rack, {
      count: 1,
      hatchedOn: rack.day(-20),
      partedOn: rack.day(0),
      moults: 1,
      lastMoultOn: rack.day(0),
    })
    const answer = await today(rack)
    expect(kinds(answer).slice(0, 4)).toEqual([
      'separation late',
      'separation late',
      'hatch due',
      'leave-alone leave-alone',
    ])
    const [first, second, third, fourth] = items(answer)
    expect([first?.clutch, second?.clutch]).toEqual([costly, late])
    expect(first?.why).toMatch(/^90 together, first at .+\. Waiting costs about \d+ animals a day\.$/)
    expect(third?.eggCase).toBe(eggCase)
    expect(third?.why).toMatch(/^window .+ to .+, about 30 nymphs \(10 to 60\)\. 199 single cups free\.$/)
    expect(fourth?.individuals).toEqual([soft?.id])
  })

  test('leaves out what has been done, and what is another breeder’s', async () => {
    const rack = await makeRack('One of two')
    const other = await makeRack('The other')
    await makeClutch(rack, { count: 40, hatched: 40 })
    expect(kinds(await today(other))).toEqual([])
    expect((await callApi(GET, { token: await makeToken(rack.owner, 'viewer') })).status).toBe(200)
  })

  test('of an earlier day leaves alone those that were here then, whatever became of them', async () => {
    const rack = await makeRack('Gone since')
    const [soft] = await makeNymphs(rack, {
      count: 1,
      hatchedOn: rack.day(-20),
      partedOn: rack.day(-5),
      moults: 1,
      lastMoultOn: rack.day(-5),
    })
    await within(rack.owner, (tx, workspace) =>
      recordLeaving(
        tx,
        { scope: rack.owner, workspace },
        leavingFormSchema.parse({ individuals: [soft?.id], on: rack.day(-3), to: 'dead', cause: 'unknown' }),
      ),
    )
    expect(kinds(await today(rack))).toEqual([])
    const then = items(await today(rack, `?asOf=${rack.day(-4)}`))
    expect(then.flatMap(({ individuals }) => individuals)).toEqual([soft?.id])
    expect(
      items(await today(rack, `?asOf=${rack.day(-6)}`)).flatMap(({ individuals }) => individuals),
    ).toEqual([])
  })

  test('of an earlier day is what it would have said then', async () => {
    const rack = await makeRack('Looking back')
    await makeClutch(rack, { count: 40, hatched: 40 })
    expect(kinds(await today(rack, `?on=${rack.day(-39)}`))).toEqual([])
    expect(kinds(await today(rack, `?asOf=${rack.day(-1)}`))).toEqual(['separation late'])
    expect((await today(rack, `?on=${rack.day(1)}`)).status).toBe(422)
  })
})
