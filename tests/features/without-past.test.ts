import { beforeAll, describe, expect, test } from 'vitest'
import { GET as getForecast } from '@/app/api/v1/individuals/[id]/forecast/route'
import { POST as postMoult } from '@/app/api/v1/individuals/[id]/moults/route'
import { POST as postIndividual } from '@/app/api/v1/individuals/route'
import { POST as postLooks } from '@/app/api/v1/looks/route'
import { daysBetween } from '@/lib/domain/calendar/date'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Bought in')
})

const buy = async (more: object): Promise<string> => {
  const place = { containerKind: rack.cup, zone: rack.zone }
  const animal = { species: 'creobroter-spp', on: rack.day(-5), origin: 'bought', sex: 'female', ...place }
  const { status, body } = await callApi(postIndividual, { token: rack.token, body: { ...animal, ...more } })
  expect([status, body]).toEqual([201, body])
  return body.id
}
const forecastOf = async (id: string) =>
  (await callApi(getForecast, { token: rack.token, params: { id } })).body
const widthOf = ({ p10, p90 }: { p10: string; p90: string }) => daysBetween(p10, p90)

describe('stock without a past', () => {
  test('of which nobody saw the last moult stands anywhere in its instar, until something is seen', async () => {
    const unknown = await buy({ instar: 6 })
    const known = await buy({ instar: 6, lastMoultOn: rack.day(-8) })
    const [wide, narrow] = [await forecastOf(unknown), await forecastOf(known)]
    expect(widthOf(wide.nextMoult)).toBeGreaterThan(widthOf(narrow.nextMoult))
    expect(wide.nextMoult.reason).toMatch(/Its last moult was not seen/)
    const seen = { on: rack.day(-1), individuals: [unknown], wingBuds: true, refusesFood: true }
    expect((await callApi(postLooks, { token: rack.token, body: seen })).status).toBe(201)
    const sharper = await forecastOf(unknown)
    expect(widthOf(sharper.nextMoult)).toBeLessThan(widthOf(wide.nextMoult))
    expect(sharper.nextMoult.chanceFinal).toBe(1)
    const nymph = await buy({ instar: 4 })
    const moulted = { token: rack.token, params: { id: nymph }, body: { on: rack.day(-1) } }
    expect((await callApi(postMoult, moulted)).status).toBe(201)
    const after = await forecastOf(nymph)
    const { p10, p50, p90 } = (
      await forecastOf(await buy({ instar: 5, on: rack.day(-1), lastMoultOn: rack.day(-1) }))
    ).nextMoult
    expect(after.nextMoult).toMatchObject({ p10, p50, p90 })
    expect(after.nextMoult.reason).not.toMatch(/was not seen/)
  })

  test('that came as an adult may be of any age, unless whoever sold it knew since when', async () => {
    const unknown = await forecastOf(await buy({ adult: true }))
    const young = await forecastOf(await buy({ adult: true, lastMoultOn: rack.day(-6) }))
    expect(unknown.remainingLife.reason).toMatch(/of unknown age/)
    expect(young.remainingLife.reason).not.toMatch(/of unknown age/)
    expect(unknown.remainingLife.p50 < young.remainingLife.p50).toBe(true)
    expect(unknown.remainingLife.p10 < young.remainingLife.p10).toBe(true)
  })
})
