import { beforeAll, describe, expect, test } from 'vitest'
import { POST as postDeath } from '@/app/api/v1/individuals/[id]/deaths/route'
import { GET as getFile } from '@/app/api/v1/sheet-batches/[id]/files/[file]/route'
import { GET as getBatch } from '@/app/api/v1/sheet-batches/[id]/route'
import { POST as postBatch } from '@/app/api/v1/sheet-batches/route'
import { formatCode } from '@/lib/domain/label/code'
import { setSheets } from '@/lib/ops/sheet-batch'
import { readPdf } from '@/tests/documents/read-pdf'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Batch printer')
})

const makeSome = (count: number) => makeNymphs(rack, { count, hatchedOn: rack.day(-50), moults: 3 })
const ask = (individuals: string[]) =>
  callApi(postBatch, { token: rack.token, body: { individuals, language: 'de', paper: 'a5' } })
const look = async (id: string) => (await callApi(getBatch, { token: rack.token, params: { id } })).body
const run = (batchId: string) => setSheets({ workspaceId: rack.owner.workspaceId, batchId })
const fetchFile = (id: string, number = 1) =>
  getFile(new Request('http://127.0.0.1/x', { headers: { authorization: `Bearer ${rack.token}` } }), {
    params: Promise.resolve({ id, file: `${number}.pdf` }),
  })

describe('many sheets at once', () => {
  test('are one file with a page for each, in the order asked for', async () => {
    const nymphs = await makeSome(3)
    const order = [nymphs[2]!, nymphs[0]!, nymphs[1]!]
    const { status, body } = await ask(order.map(({ id }) => id))
    expect([status, body.total, body.done, body.files]).toEqual([201, 3, 0, []])
    await run(body.id)
    expect(await look(body.id)).toMatchObject({ done: 3, failure: null, files: [{ number: 1, sheets: 3 }] })
    const pdf = await readPdf(new Uint8Array(await (await fetchFile(body.id)).arrayBuffer()))
    expect(
      pdf.pages.map((page) => order.findIndex(({ label }) => page.text.includes(formatCode(label)))),
    ).toEqual([0, 1, 2])
    expect(pdf.text).toContain('Häutung')
    expect(pdf.pages[0]?.widthMm).toBeCloseTo(148, 0)
  })

  test('tell before anything is set which letters no font has', async () => {
    const ids = (await makeSome(2)).map(({ id }) => id)
    expect((await ask(ids)).body.warnings).toEqual([])
    const body = { individuals: ids, language: 'de', paper: 'a5', note: 'Für \u1bb5 von uns' }
    const told = await callApi(postBatch, { token: rack.token, body })
    expect(told.status).toBe(201)
    expect(told.body).toMatchObject({ done: 0, warnings: [{ code: 'unprintable' }] })
    expect(told.body.warnings[0].message).toContain('\u1bb5')
  })

  test('are set once, however often the job runs', async () => {
    const { body } = await ask((await makeSome(1)).map(({ id }) => id))
    await run(body.id)
    const before = await readBytes(body.id)
    await run(body.id)
    expect(await readBytes(body.id)).toEqual(before)
    expect((await look(body.id)).done).toBe(1)
  })

  test('leave out an animal that died meanwhile, and go on', async () => {
    const [stays, dies] = await makeSome(2)
    const { body } = await ask([stays!.id, dies!.id])
    await callApi(postDeath, { token: rack.token, params: { id: dies!.id }, body: { on: rack.day(0) } })
    await run(body.id)
    expect(await look(body.id)).toMatchObject({ done: 2, failure: null })
    const pdf = await readPdf(new Uint8Array(await (await fetchFile(body.id)).arrayBuffer()))
    expect(pdf.pages).toHaveLength(1)
  })

  test('that are no longer kept can be set again', async () => {
    const { body } = await ask((await makeSome(1)).map(({ id }) => id))
    await run(body.id)
    await within(rack.owner, (tx, { workspaceId }) =>
      tx.sheetBatchFile.updateMany({ where: { workspaceId, batchId: body.id }, data: { bytes: null } }),
    )
    expect((await look(body.id)).files[0].pdf).toBeNull()
    expect((await fetchFile(body.id)).status).toBe(404)
    await run(body.id)
    expect((await fetchFile(body.id)).status).toBe(200)
  })

  test('of an animal that is gone are refused as a whole, naming it', async () => {
    const [stays, dead] = await makeSome(2)
    await callApi(postDeath, { token: rack.token, params: { id: dead!.id }, body: { on: rack.day(0) } })
    const { status, body } = await ask([stays!.id, dead!.id])
    expect(status).toBe(409)
    expect(JSON.stringify(body)).toContain(formatCode(dead!.label))
  })
})

async function readBytes(batchId: string): Promise<string> {
  const file = await within(rack.owner, (tx, { workspaceId }) =>
    tx.sheetBatchFile.findFirstOrThrow({ where: { workspaceId, batchId } }),
  )
  return `${file.createdAt.toISOString()} ${file.bytes?.length}`
}
