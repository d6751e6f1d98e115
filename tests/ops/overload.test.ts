import http from 'node:http'
import { afterEach, describe, expect, it } from 'vitest'
import { makeAdmission } from '@/lib/ops/web/admission.mjs'
import { guardAgainstOverload } from '@/lib/ops/web/overload.mjs'

const PATIENT = 60_000
/** Lets what was decided reach who waits for it. */
const settle = () => new Promise((resolve) => setImmediate(resolve))

/** Who entered so far, in the order in which they were let in or sent away. */
function watchDoor(limits: { places: number; queue: number; patienceMs: number }) {
  const admission = makeAdmission(limits)
  const said: string[] = []
  const come = (caller: string) =>
    void admission.enter(caller).then((isIn) => said.push(`${caller} ${isIn ? 'in' : 'away'}`))
  return { ...admission, come, said }
}

describe('the door of the web server', () => {
  it('lets in as many as there are places, and the next when one is left', async () => {
    const door = watchDoor({ places: 2, queue: 5, patienceMs: PATIENT })
    for (const caller of ['ada', 'ben', 'cleo']) door.come(caller)
    await settle()
    expect(door.said).toEqual(['ada in', 'ben in'])
    door.release('ada')
    await settle()
    expect(door.said).toEqual(['ada in', 'ben in', 'cleo in'])
    expect(door.counts()).toEqual({ served: 2, waiting: 0 })
  })

  it('gives the next place to whoever has the fewest, not to the crowd that came before', async () => {
    const door = watchDoor({ places: 2, queue: 9, patienceMs: PATIENT })
    for (const caller of ['crowd', 'crowd', 'crowd', 'crowd', 'ada']) door.come(caller)
    door.release('crowd')
    await settle()
    expect(door.said).toEqual(['crowd in', 'crowd in', 'ada in'])
  })

  it('sends the newcomer away at once when its own requests fill the queue', async () => {
    const door = watchDoor({ places: 1, queue: 2, patienceMs: PATIENT })
    for (let request = 0; request < 4; request++) door.come('crowd')
    await settle()
    expect(door.said).toEqual(['crowd in', 'crowd away'])
  })

  it('makes room in a full queue for somebody else, at the cost of the crowd’s last', async () => {
    const door = watchDoor({ places: 1, queue: 3, patienceMs: PATIENT })
    for (const caller of ['crowd', 'crowd', 'crowd', 'crowd', 'ada']) door.come(caller)
    await settle()
    expect(door.said).toEqual(['crowd in', 'crowd away'])
    door.release('crowd')
    await settle()
    expect(door.counts()).toEqual({ served: 1, waiting: 2 })
  })

  it('tells who would wait too long before the wait, by what was finished while all places were taken', async () => {
    let clock = 0
    const limits = { places: 1, queue: 100, patienceMs: 1000 }
    const admission = makeAdmission(limits, () => clock)
    const said: string[] = []
    const come = (caller: string) =>
      void admission.enter(caller).then((isIn) => said.push(`${caller} ${isIn}`))
    come('0')
    for (let number = 1; number <= 12; number++) come(String(number))
    for (let finished = 0; finished < 10; finished++) {
      clock += 400
      admission.release(String(finished))
    }
    await settle()
    // Two wait, two and a half are finished a second: a third would wait for more than a second.
    expect(admission.counts()).toEqual({ served: 1, waiting: 2 })
    come('late')
    await settle()
    expect(said.at(-1)).toBe('late false')
    for (const finished of [10, 11, 12]) admission.release(String(finished))
    // With nobody left to wait for there is nothing to hold against the next.
    for (const caller of ['a', 'b', 'c', 'd', 'e']) come(caller)
    await settle()
    expect(admission.counts()).toEqual({ served: 1, waiting: 4 })
  })

  it('lets nobody wait longer than is of use', async () => {
    const door = watchDoor({ places: 1, queue: 5, patienceMs: 30 })
    for (const caller of ['ada', 'ben']) door.come(caller)
    await expect.poll(() => door.said, { timeout: 10_000 }).toEqual(['ada in', 'ben away'])
    door.release('ada')
    expect(door.counts()).toEqual({ served: 0, waiting: 0 })
  })
})

let server: http.Server | undefined
afterEach(() => {
  server?.closeAllConnections()
  server?.close()
  server = undefined
})

/** A server whose work is only finished when the test says so. */
async function startSlow(limits: { places: number; queue: number; patienceMs: number }) {
  const open: http.ServerResponse[] = []
  const serve = (_: http.IncomingMessage, response: http.ServerResponse) => void open.push(response)
  const made = http.createServer(guardAgainstOverload(serve, { limits }))
  server = made
  await new Promise<void>((resolve) => made.listen(0, '127.0.0.1', resolve))
  const { port } = made.address() as { port: number }
  const ask = (path: string, token: string, signal?: AbortSignal) =>
    fetch(`http://127.0.0.1:${port}${path}`, { headers: { authorization: `Bearer ${token}` }, signal })
  return { open, ask }
}

describe('a server that is asked for more than it can do', () => {
  it('says so at once as a problem with the time to wait, while others are served', async () => {
    const { open, ask } = await startSlow({ places: 1, queue: 1, patienceMs: PATIENT })
    const [first, second] = [ask('/api/v1/sales', 'one'), ask('/api/v1/sales', 'one')]
    await expect.poll(() => open.length, { timeout: 10_000 }).toBe(1)
    const third = await ask('/api/v1/sales', 'one')
    expect(third.status).toBe(503)
    expect(Number(third.headers.get('retry-after'))).toBeGreaterThan(0)
    expect(third.headers.get('content-type')).toBe('application/problem+json')
    expect(await third.json()).toMatchObject({ status: 503, title: 'Busy' })
    open[0]?.end('done')
    expect((await first).status).toBe(200)
    await expect.poll(() => open.length, { timeout: 10_000 }).toBe(2)
    open[1]?.end('done')
    expect((await second).status).toBe(200)
  })

  it('always says whether it lives, and gives the place of who hung up to the next', async () => {
    const { open, ask } = await startSlow({ places: 1, queue: 2, patienceMs: PATIENT })
    const hangUp = new AbortController()
    const gone = ask('/w/shop/sales', 'one', hangUp.signal).catch(() => 'hung up')
    await expect.poll(() => open.length, { timeout: 10_000 }).toBe(1)
    const waiting = ask('/w/shop/sales', 'two')
    const health = ask('/api/health', 'three')
    await expect.poll(() => open.length, { timeout: 10_000 }).toBe(2)
    open[1]?.end('alive')
    expect((await health).status).toBe(200)
    hangUp.abort()
    expect(await gone).toBe('hung up')
    await expect.poll(() => open.length, { timeout: 10_000 }).toBe(3)
    open[2]?.end('done')
    expect((await waiting).status).toBe(200)
  })
})
