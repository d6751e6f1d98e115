import { describe, expect, it } from 'vitest'
import type { Stock } from '../stock'
import { ask } from './ask'
import type { Callers } from './callers'

type World = { address: string; callers: Callers; neighbour: Stock }

/** The two ways in for a file with everything of a workspace: the API's and the form's. */
export function describeTakenBack(given: () => World): void {
  describe('a file that a workspace is taken back from', () => {
    const at = (rest: string) => `${given().address}${rest}`
    const send = (address: string, caller: Parameters<typeof ask>[1], body: Uint8Array<ArrayBuffer>) =>
      ask(at(address), caller, { method: 'POST', body })
    const readCopy = async (token: string | undefined) => {
      const headers = { authorization: `Bearer ${token}` }
      return new Uint8Array(await (await fetch(at('/api/v1/export'), { headers })).arrayBuffer())
    }

    it('is taken by the API from an owner alone, and makes a workspace with nothing of a neighbour in it', async () => {
      const bytes = await readCopy(given().callers.owner.token)
      const address = '/api/v1/import?name=Taken&slug=taken-back'
      for (const stranger of [given().callers.nobody, given().callers.removed, given().callers.expired])
        expect((await send(address, { token: stranger.token }, bytes)).status).toBe(401)
      for (const role of ['keeper', 'counter', 'viewer'] as const)
        expect([role, (await send(address, given().callers.members[role], bytes)).status]).toEqual([
          role,
          403,
        ])
      expect((await send(address, given().callers.owner, bytes)).status).toBe(201)
      const again = await ask(at('/api/v1/export'), given().callers.owner)
      expect(again.text).not.toContain(given().neighbour.mark)
    })

    it('is taken by the form from who is signed in, as a workspace of their own', async () => {
      const bytes = await readCopy(given().callers.owner.token)
      const address = '/workspaces/restore/file?name=Taken&slug=taken-by-form'
      for (const stranger of [given().callers.nobody, given().callers.expired])
        expect((await send(address, stranger, bytes)).text).toContain('signed-out')
      expect((await send(address, given().callers.members.viewer, bytes)).text).toContain('"status":"done"')
      const theirs = at('/w/taken-by-form')
      expect((await ask(theirs, given().callers.members.viewer)).status).toBe(200)
      expect((await ask(theirs, given().callers.owner)).status).toBe(404)
      const foreign = { method: 'POST', body: bytes, headers: { origin: 'https://elsewhere.example' } }
      expect((await ask(at(address), given().callers.owner, foreign)).status).toBe(403)
    })
  })
}
