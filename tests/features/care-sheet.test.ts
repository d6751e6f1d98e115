import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postSheets } from '@/app/api/v1/care-sheets/route'
import { GET as getSheet } from '@/app/api/v1/individuals/[id]/care-sheet.pdf/route'
import { POST as postDeath } from '@/app/api/v1/individuals/[id]/deaths/route'
import { GET as getForecast } from '@/app/api/v1/individuals/[id]/forecast/route'
import { GET as getLabel } from '@/app/api/v1/individuals/[id]/label.pdf/route'
import { POST as postMoult } from '@/app/api/v1/individuals/[id]/moults/route'
import { POST as postSale } from '@/app/api/v1/sales/route'
import { daysBetween } from '@/lib/domain/calendar/date'
import { formatCode } from '@/lib/domain/label/code'
import { loadCareSheets } from '@/lib/features/care-sheet/data'
import { updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { requireIndividual } from '@/lib/features/individual/data'
import { readPdf } from '@/tests/documents/read-pdf'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Sheet printer')
  other = await makeRack('Copy shop')
})

async function makeOne(lastMoult = -6, room = rack): Promise<Nymph> {
  const [nymph] = await makeNymphs(room, {
    count: 1,
    hatchedOn: room.day(-50),
    partedOn: room.day(-5),
    moults: 3,
    lastMoultOn: room.day(lastMoult),
  })
  if (!nymph) throw new Error('no nymph')
  return nymph
}

const fetchPdf = (handler: typeof getSheet, id: string, { token = rack.token, query = '' } = {}) =>
  handler(new Request(`http://127.0.0.1/x${query}`, { headers: { authorization: `Bearer ${token}` } }), {
    params: Promise.resolve({ id }),
  })
const print = (individuals: string[], more = {}, token = rack.token) =>
  callApi(postSheets, { token, body: { individuals, ...more } })
const readSheet = async (id: string, query = '') => {
  const response = await fetchPdf(getSheet, id, { query })
  expect(response.status).toBe(200)
  return readPdf(new Uint8Array(await response.arrayBuffer()))
}
const spoken = (day: string) => {
  const [year, month, date] = day.split('-')
  const name = new Date(`${day}T12:00:00Z`).toLocaleString('en-GB', { month: 'short', timeZone: 'UTC' })
  return { date: Number(date), month: Number(month), name, year }
}

describe('the care sheet', () => {
  test('is one page about this animal, with its own label, dates and window', async () => {
    const nymph = await makeOne()
    const pdf = await readSheet(nymph.id)
    const { body: forecast } = await callApi(getForecast, { token: rack.token, params: { id: nymph.id } })
    expect(pdf.pages).toHaveLength(1)
    const text = pdf.text
    expect(text).toContain(formatCode(nymph.label))
    expect(text).toContain('Creobroter')
    for (const day of [rack.day(-50), rack.day(-6), forecast.nextMoult.p10, forecast.nextMoult.p90]) {
      const { date, name } = spoken(day)
      expect(text).toMatch(new RegExp(`\\b${date}\\s+${name}`))
    }
  })

  test('follows the records: a moult changes what it says, another animal has its own', async () => {
    const [one, two] = [await makeOne(), await makeOne(-5)]
    const before = (await readSheet(one.id)).text
    await callApi(postMoult, { token: rack.token, params: { id: one.id }, body: { on: rack.day(-1) } })
    const after = (await readSheet(one.id)).text
    expect(before).toMatch(/4th instar/)
    expect(after).toMatch(/5th instar/)
    expect((await readSheet(two.id)).text).not.toContain(formatCode(one.label))
  })

  test('speaks the language and fits the paper asked for', async () => {
    const nymph = await makeOne()
    const german = await readSheet(nymph.id, '?language=de&paper=a5')
    expect(german.text).toMatch(/Häutung/)
    const wrong = await fetchPdf(getSheet, nymph.id, { query: '?language=xx' })
    expect(wrong.status).toBe(422)
  })

  test('names the day an animal was handed over, and tells of it as it was known then', async () => {
    const nymph = await makeOne()
    await callApi(postSale, { token: rack.token, body: { individuals: [nymph.id], on: rack.day(-1) } })
    await within(rack.owner, async (tx, workspace) => {
      const { speciesId } = await requireIndividual(tx, workspace.workspaceId, nymph.id)
      await updateGrowthFit(tx, workspace, speciesId)
    })
    const [payload] = await within(rack.owner, (tx, workspace) =>
      loadCareSheets(tx, workspace, { ids: [nymph.id], choice: {} }),
    )
    expect(payload).toMatchObject({ handedOverOn: rack.day(-1), printedOn: rack.day(0) })
    const asKnown = await callApi(getForecast, {
      token: rack.token,
      params: { id: nymph.id },
      query: `?asOf=${rack.day(-1)}`,
    })
    // What was learned since of its species counts, so that a day more or less is no surprise.
    const { p10, p90 } = asKnown.body.nextMoult
    const moult = payload?.moult as { fromOn: string; toOn: string }
    expect(Math.abs(daysBetween(p10, moult.fromOn))).toBeLessThanOrEqual(1)
    expect(Math.abs(daysBetween(p90, moult.toOn))).toBeLessThanOrEqual(1)
  })

  test('tells of a limb that was lost until it has grown back', async () => {
    const nymph = await makeOne(-5)
    const body = { on: rack.day(-2), outcome: 'lost_limb', note: 'Left middle leg' }
    await callApi(postMoult, { token: rack.token, params: { id: nymph.id }, body })
    expect((await readSheet(nymph.id)).text).toContain('Left middle leg')
  })

  test('never carries notes, supplier or what it cost', async () => {
    const nymph = await makeOne()
    await within(rack.owner, (tx, { workspaceId }) =>
      tx.individual.updateMany({
        where: { workspaceId, id: nymph.id },
        data: { notes: 'CANARY-NOTE', supplier: 'CANARY-SUPPLIER' },
      }),
    )
    await callApi(postSale, {
      token: rack.token,
      body: {
        individuals: [nymph.id],
        note: 'CANARY-SALE',
        lines: [{ individual: nymph.id, price: { amount: 987654, currency: 'EUR' } }],
      },
    })
    const text = (await readSheet(nymph.id)).text
    expect(text).not.toMatch(/CANARY|9.?876/)
  })

  test('is not drawn for an animal that died, and not for another workspace', async () => {
    const nymph = await makeOne()
    expect((await fetchPdf(getSheet, nymph.id, { token: other.token })).status).toBe(404)
    const viewer = await makeToken(rack.owner, 'viewer')
    expect((await fetchPdf(getSheet, nymph.id, { token: viewer })).status).toBe(403)
    await callApi(postDeath, { token: rack.token, params: { id: nymph.id }, body: { on: rack.day(0) } })
    expect((await fetchPdf(getSheet, nymph.id)).status).toBe(404)
    expect((await print([nymph.id])).status).toBe(409)
  })
})

describe('printing a sheet', () => {
  test('is recorded with the version of the care profile in force and opens one page per animal', async () => {
    const [one, two] = [await makeOne(), await makeOne()]
    const first = await print([one.id, two.id], { paper: 'letter', language: 'fr' })
    expect(first.status).toBe(201)
    expect(first.body.items).toMatchObject([
      { individual: one.id, paper: 'letter', language: 'fr', profileVersion: 1 },
      { individual: two.id },
    ])
    const again = await print([one.id])
    expect(again.body.items[0].publicPage).toBe(first.body.items[0].publicPage)
    expect(first.body.items[0].publicPage).not.toBe(first.body.items[1].publicPage)
    const rows = await within(rack.owner, (tx, { workspaceId }) =>
      tx.careSheet.count({ where: { workspaceId, individualId: one.id } }),
    )
    expect(rows).toBe(2)
  })

  test('looked at before it is printed leaves no trace and carries no code', async () => {
    const nymph = await makeOne()
    await readSheet(nymph.id)
    const [payload] = await within(rack.owner, (tx, workspace) =>
      loadCareSheets(tx, workspace, { ids: [nymph.id], choice: {} }),
    )
    expect(payload?.publicPageUrl).toBeNull()
    const links = await within(rack.owner, (tx, { workspaceId }) =>
      tx.publicLink.count({ where: { workspaceId, individualId: nymph.id } }),
    )
    expect(links).toBe(0)
  })

  test('of the same animal by eight people at once opens one page', async () => {
    const nymph = await makeOne()
    const answers = await Promise.all(Array.from({ length: 8 }, () => print([nymph.id])))
    expect(answers.map(({ status }) => status)).toEqual(Array(8).fill(201))
    expect(new Set(answers.map(({ body }) => body.items[0].publicPage)).size).toBe(1)
  })
})

describe('the label of one animal', () => {
  test('carries its code and species and leads to its own page', async () => {
    const nymph = await makeOne()
    const response = await fetchPdf(getLabel, nymph.id)
    const pdf = await readPdf(new Uint8Array(await response.arrayBuffer()))
    expect(pdf.text).toContain(formatCode(nymph.label))
    expect((await fetchPdf(getLabel, nymph.id, { token: other.token })).status).toBe(404)
  })
})
