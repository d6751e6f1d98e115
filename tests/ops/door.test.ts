import { type ChildProcess, spawn } from 'node:child_process'
import fs from 'node:fs'
import http from 'node:http'
import os from 'node:os'
import { afterEach, describe, expect, it } from 'vitest'
import { inProject } from '@/lib/ops/place.mjs'
import { findFreePort, tryPort } from '@/lib/ops/process/ports.mjs'
import { runOpenLoad } from '@/tests/support/open-load'

type Busy = {
  child: ChildProcess
  port: number
  address: string
  ended: Promise<number | null>
  output(): string
}

const started: ChildProcess[] = []
afterEach(() => {
  for (const child of started.splice(0)) child.kill('SIGKILL')
})

function spawnBusy(port: number, more: Record<string, string> = {}): Busy {
  const child = spawn(process.execPath, [inProject('tests/support/busy-server.mjs')], {
    env: { ...process.env, PORT: String(port), ...more } as NodeJS.ProcessEnv,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
  })
  started.push(child)
  let output = ''
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (chunk) => (output += chunk))
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  return { child, port, address: `http://127.0.0.1:${port}`, ended, output: () => output }
}

async function startBusy(more: Record<string, string> = {}): Promise<Busy> {
  const busy = spawnBusy(await findFreePort(), more)
  await new Promise<void>((resolve, reject) => {
    busy.child.once('message', () => resolve())
    void busy.ended.then(() => reject(new Error(busy.output())))
  })
  return busy
}

const foldersOf = ({ child }: Busy) =>
  fs.readdirSync(os.tmpdir()).filter((name) => name.startsWith(`oothecary-web-${child.pid}-`))

describe('the door of a server whose one thread is busy', () => {
  it('tells most of a sudden crowd at once that it is too much, and breaks no line', async () => {
    const { address } = await startBusy()
    const crowd = { url: `${address}/busy`, headers: {}, perSecond: 800, seconds: 0.5 }
    const told = await runOpenLoad(crowd)
    const served = told.filter(({ status }) => status === 200)
    const refused = told.filter(({ status }) => status === 503)
    expect(served.length + refused.length).toBe(told.length)
    // Of 400 the door lets in 24 and has 120 wait; the rest is told, long before the last who waited was served.
    expect(refused.length).toBeGreaterThan(200)
    expect(served.length).toBeGreaterThan(100)
    const lastTold = Math.max(...refused.map(({ atMs, tookMs }) => atMs + tookMs))
    const lastServed = Math.max(...served.map(({ atMs, tookMs }) => atMs + tookMs))
    expect(lastTold).toBeLessThan(lastServed)
    expect((await fetch(`${address}/busy`)).status).toBe(200)
  })

  it('finishes what is in flight when it is told to stop, and takes nothing new', async () => {
    const busy = await startBusy()
    const slow = await fetch(`${busy.address}/slow`)
    const [before] = foldersOf(busy)
    busy.child.send('stop')
    expect(await slow.text()).toBe('begun and finished')
    expect(await busy.ended).toBe(0)
    await expect(fetch(`${busy.address}/echo`)).rejects.toThrow()
    expect(before).toBeDefined()
    expect(foldersOf(busy)).toEqual([])
  })

  it('leaves its port free after a kill -9, and its socket to the next server to clear away', async () => {
    const busy = await startBusy()
    expect(await tryPort('127.0.0.1', busy.port)).toBe('EADDRINUSE')
    busy.child.kill('SIGKILL')
    await busy.ended
    await expect.poll(() => tryPort('127.0.0.1', busy.port), { timeout: 10_000 }).toBe('free')
    expect(foldersOf(busy)).toHaveLength(1)
    await startBusy()
    expect(foldersOf(busy)).toEqual([])
  })

  it('says which port is taken instead of standing at none', async () => {
    const { port } = await startBusy()
    const second = spawnBusy(port)
    expect(await second.ended).toBe(1)
    expect(second.output()).toContain('EADDRINUSE')
  })
})

describe('what the door hands on', () => {
  type Seen = { method: string; body: string; headers: Record<string, string> }
  const forged = { 'x-forwarded-for': '203.0.113.7, 198.51.100.2', 'x-told': 'yes' }
  const seen = async (answer: Response) => (await answer.json()) as Seen

  it('is the address at the other end of the line, whatever a caller writes about itself', async () => {
    const { address } = await startBusy()
    const { headers } = await seen(await fetch(`${address}/echo`, { headers: forged }))
    expect(headers).toMatchObject({ 'x-forwarded-for': '127.0.0.1', 'x-told': 'yes' })
    expect(headers.host).toBe(address.slice('http://'.length))
  })

  it('is what a proxy of our own says, where one stands in front', async () => {
    const { address } = await startBusy({ HAS_PROXY: 'yes' })
    const behind = await seen(await fetch(`${address}/echo`, { headers: forged }))
    expect(behind.headers['x-forwarded-for']).toBe('203.0.113.7, 198.51.100.2')
    const inside = await seen(await fetch(`${address}/echo`))
    expect(inside.headers['x-forwarded-for']).toBe('127.0.0.1')
  })

  it('is the body, with or without a length, and both of two cookies on the way back', async () => {
    const { address } = await startBusy()
    const whole = await fetch(`${address}/echo`, { method: 'POST', body: 'three moults' })
    expect(whole.headers.getSetCookie()).toEqual(['first=1', 'second=2'])
    expect(await seen(whole)).toMatchObject({ method: 'POST', body: 'three moults' })
    const pieces = new ReadableStream({
      start(out) {
        for (const word of ['two ', 'pieces']) out.enqueue(new TextEncoder().encode(word))
        out.close()
      },
    })
    const asked = { method: 'PUT', body: pieces, duplex: 'half' } as RequestInit
    const inPieces = await seen(await fetch(`${address}/echo`, asked))
    expect(inPieces).toMatchObject({ method: 'PUT', body: 'two pieces' })
    const head = await fetch(`${address}/echo`, { method: 'HEAD' })
    expect([head.status, await head.text()]).toEqual([200, ''])
  })

  it('is not worked for once who asked has hung up, and never a silent end when the server breaks', async () => {
    const { address } = await startBusy()
    const asked = http.get(`${address}/never`).on('error', () => {})
    await new Promise((resolve) => setTimeout(resolve, 100))
    asked.destroy()
    await expect.poll(async () => (await fetch(`${address}/hung-up`)).text(), { timeout: 10_000 }).toBe('1')
    expect((await fetch(`${address}/broken`)).status).toBe(502)
  })
})
