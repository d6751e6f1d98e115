import { expect, it } from 'vitest'
import { DEVICE } from '../sale-stock'
import type { Stock } from '../stock'
import { idOf } from '../stock-id'
import { ask } from './ask'
import type { Callers } from './callers'

type Place = { address: string; callers: Callers; own: Stock; neighbour: Stock }

export const STALL_ROUTES = ['/api/stall', '/api/stall/parts', '/stall/worker.mjs']

/** The counter that works without a connection asks before anybody is known, like the bench. */
export function describeStall(getPlace: () => Place): void {
  const send = (path: string, caller: Parameters<typeof ask>[1], body: unknown) => {
    const { address } = getPlace()
    const headers = { 'content-type': 'application/json', origin: address }
    return ask(`${address}${path}`, caller, { method: 'POST', headers, body: JSON.stringify(body) })
  }
  const partOf = ({ workspaceId }: Stock, box: Stock) => ({
    ...{ workspaceId, box: idOf(box, 'show_box'), part: 1, device: DEVICE },
  })

  it('hands a part of a box only to whom it belongs and who may sell', async () => {
    const { address, callers, own, neighbour } = getPlace()
    const path = '/api/stall/parts'
    for (const stranger of [callers.nobody, callers.expired])
      expect((await send(path, stranger, partOf(own, own))).status).toBe(401)
    for (const stranger of [callers.neighbour, callers.removed]) {
      const said = await send(path, stranger, partOf(own, own))
      expect(said.status).toBe(404)
      expect(said.text).not.toContain(own.mark)
    }
    expect((await send(path, callers.neighbour, partOf(neighbour, own))).status).toBe(404)
    expect((await send(path, callers.members.keeper, partOf(own, own))).status).toBe(403)
    const taken = await send(path, callers.members.counter, partOf(own, own))
    expect(taken.status).toBe(200)
    expect(taken.text).not.toContain(neighbour.mark)
    const other = { ...partOf(own, own), device: DEVICE.replace(/1$/, '2') }
    expect((await send(path, callers.owner, other)).status).toBe(409)
    const who = await ask(`${address}/api/stall`, callers.neighbour)
    expect(who.text).not.toContain(own.mark)
    expect((await ask(`${address}/api/stall`, callers.nobody)).status).toBe(401)
  })

  it('takes receipts of a device only from somebody signed in, and only into their own workspaces', async () => {
    const { callers, own, neighbour } = getPlace()
    const receipt = {
      ...{ id: '0197c0de-0000-7000-8000-000000000002', ...partOf(own, own), personId: neighbour.personId },
      ...{ series: 'S1A', number: 1, on: '2026-03-20', writtenAt: '2026-03-20T18:00:00Z', currency: 'EUR' },
      ...{ taxIncluded: true, animals: [], v: 1 },
      others: [{ description: 'A cup', quantity: 1, unitPriceMinor: 90, taxBasisPoints: 0 }],
    }
    const body = { receipts: [receipt] }
    for (const stranger of [callers.nobody, callers.expired])
      expect((await send('/api/stall', stranger, body)).status).toBe(401)
    for (const stranger of [callers.neighbour, callers.removed]) {
      const said = await send('/api/stall', stranger, body)
      expect(said.text).toMatch(/"status":"refused"|"status":4\d\d/)
      expect(said.text).not.toContain(own.mark)
    }
  })

  it('gives the same page to everybody: nobody’s name, no record', async () => {
    const { address, callers, own } = getPlace()
    const bare = (text: string) =>
      text.replaceAll(/nonce="[^"]*"|"nonce":"[^"]*"|\\"nonce\\":\\"[^"]*\\"/g, '')
    const pages = []
    for (const caller of [callers.nobody, callers.owner, callers.neighbour]) {
      const { status, text } = await ask(`${address}/stall`, caller)
      expect(status).toBe(200)
      expect(text).not.toContain(own.mark)
      expect(text).not.toMatch(/@example\.test/)
      pages.push(bare(text).length)
    }
    expect(new Set(pages).size).toBe(1)
    const worker = await ask(`${address}/stall/worker.mjs`, callers.nobody)
    expect(worker.text).toContain("const PAGE = '/stall'")
  })
}
