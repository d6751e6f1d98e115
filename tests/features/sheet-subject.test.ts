import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postSheets } from '@/app/api/v1/care-sheets/route'
import { GET as getEggSheet } from '@/app/api/v1/egg-cases/[id]/care-sheet.pdf/route'
import { POST as postEggSheet } from '@/app/api/v1/egg-cases/[id]/care-sheets/route'
import { POST as postEggCase } from '@/app/api/v1/egg-cases/route'
import { GET as getSheet } from '@/app/api/v1/individuals/[id]/care-sheet.pdf/route'
import { GET as getLotSheet } from '@/app/api/v1/sheet-lots/[id]/care-sheet.pdf/route'
import { formatCode } from '@/lib/domain/label/code'
import { loadPublicCalendar, loadPublicPage, loadPublicPicture } from '@/lib/features/public-link/loaders'
import { readPdf } from '@/tests/documents/read-pdf'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Lot printer')
})

const makeSome = (count: number, species?: string) =>
  makeNymphs(rack, {
    count,
    species,
    hatchedOn: rack.day(-50),
    partedOn: rack.day(-5),
    moults: 3,
    lastMoultOn: rack.day(-6),
  })
const print = (individuals: string[], more = {}) =>
  callApi(postSheets, { token: rack.token, body: { individuals, ...more } })
const read = async (handler: typeof getSheet, id: string) => {
  const request = new Request('http://127.0.0.1/x', { headers: { authorization: `Bearer ${rack.token}` } })
  const response = await handler(request, { params: Promise.resolve({ id }) })
  expect(response.status).toBe(200)
  return readPdf(new Uint8Array(await response.arrayBuffer()))
}
const tokenOf = (address: string) => address.replace(/^.*\/p\//, '')
const MISSING = { digest: 'NEXT_HTTP_ERROR_FALLBACK;404' }

describe('animals that go home together', () => {
  test('share one sheet and one page, with the label of each', async () => {
    const nymphs = await makeSome(3)
    const { body } = await print(
      nymphs.map(({ id }) => id),
      { together: true, note: 'From one shelf.' },
    )
    expect(new Set(body.items.map((item: { lot: string }) => item.lot)).size).toBe(1)
    const [item] = body.items
    const pdf = await read(getLotSheet, item.lot)
    expect(pdf.pages).toHaveLength(1)
    for (const { label } of nymphs) expect(pdf.text).toContain(formatCode(label))
    expect(pdf.text).toContain('From one shelf.')
    expect(pdf.links).toEqual([item.publicPage])
    const page = await loadPublicPage(tokenOf(item.publicPage), undefined)
    expect(page.sheet.labelCode).toBe('0.0.3')
  })

  test('are of one species', async () => {
    const [one] = await makeSome(1)
    const [other] = await makeSome(1, 'hierodula-spp')
    const { status } = await print([one!.id, other!.id], { together: true })
    expect(status).toBe(422)
  })
})

describe('an egg case', () => {
  const makeEggCase = async () =>
    (
      await callApi(postEggCase, {
        token: rack.token,
        body: { species: 'creobroter-spp', laidOn: rack.day(-10), zone: rack.zone },
      })
    ).body

  test('has a sheet and a page of its own', async () => {
    const made = await makeEggCase()
    const { status, body } = await callApi(postEggSheet, {
      token: rack.token,
      params: { id: made.id },
      body: { note: 'Laid by a young female.' },
    })
    expect(status).toBe(201)
    const pdf = await read(getEggSheet, made.id)
    expect(pdf.text).toContain('The young will probably come between')
    expect(pdf.text).toContain('Laid by a young female.')
    expect(pdf.text).not.toMatch(/undefined|NaN|~/)
    const page = await loadPublicPage(tokenOf(body.publicPage), 'fr')
    expect(page.sheet.lines).toEqual(['oothèque'])
    expect(page.today.sentences.map(({ text }) => text)).toEqual([
      'Aucune éclosion n’est attendue aujourd’hui.',
    ])
  })
})

describe('a sheet that is printed again', () => {
  test('says so, and from which version of the care profile the first one came', async () => {
    const [nymph] = await makeSome(1)
    await print([nymph!.id])
    expect((await read(getSheet, nymph!.id)).text).not.toContain('printed again')
    await print([nymph!.id])
    expect((await read(getSheet, nymph!.id)).text).toMatch(/printed again; first on .* from version 1/)
  })
})

describe('what this shop sells', () => {
  test('is named beside the food it is, once its books say that it was sold', async () => {
    const [nymph] = await makeSome(1)
    expect((await read(getSheet, nymph!.id)).text).not.toContain('We sell')
    const slugs = ['melanogaster', 'hydei', 'house-fly', 'green-bottle'].map((slug) => ({ slug }))
    await within(rack.owner, async (tx, { workspaceId, today }) => {
      await tx.preyLine.createMany({
        data: slugs.map(({ slug }) => ({ workspaceId, slug, kept: true })),
        skipDuplicates: true,
      })
      await tx.preyDeparture.createMany({
        data: slugs.map(({ slug }) => ({
          workspaceId,
          slug,
          on: new Date(`${today}T00:00:00Z`),
          count: 5,
          how: 'sold' as const,
        })),
      })
    })
    const { text } = await read(getSheet, nymph!.id)
    expect(text).toContain('We sell')
  })
})

describe('the page behind the code', () => {
  test('hands out its weeks as a calendar, and no photo where none was chosen', async () => {
    const [nymph] = await makeSome(1)
    const { body } = await print([nymph!.id])
    const token = tokenOf(body.items[0].publicPage)
    const file = await loadPublicCalendar(token, 'de')
    expect(file).toContain('BEGIN:VCALENDAR\r\n')
    expect(file).toContain('Häutung möglich')
    expect(file).not.toContain(rack.owner.workspaceId)
    await expect(loadPublicPicture(token)).rejects.toMatchObject(MISSING)
    await expect(loadPublicCalendar(token.replaceAll(/[a-z]/g, 'x'), 'de')).rejects.toMatchObject(MISSING)
  })
})
