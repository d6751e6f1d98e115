import { spawn } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { inProject } from '@/lib/ops/place.mjs'
import { readProcess } from '@/lib/ops/process/life.mjs'
import { readHolder, takeLock } from '@/lib/ops/process/lock.mjs'

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'oothecary-lock-'))
const fileFor = (name: string) => path.join(folder, `${name}.json`)

afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

/** A process that tries to take the lock at a given moment, says whether it did, and stays. */
function contend(file: string, at: number) {
  const script = `
    const { takeLock } = await import(${JSON.stringify(inProject('lib/ops/process/lock.mjs'))})
    while (Date.now() < ${at}) {}
    console.log(takeLock(${JSON.stringify(file)}).holder ? 'refused' : 'taken')
    setInterval(() => {}, 1000)`
  const child = spawn(process.execPath, ['--input-type=module', '-e', script], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const said = new Promise<string>((resolve) =>
    child.stdout.once('data', (chunk) => resolve(String(chunk).trim())),
  )
  const kill = () =>
    new Promise<void>((resolve) => {
      child.once('exit', () => resolve())
      child.kill('SIGKILL')
    })
  return { said, kill }
}

const leaveBehind = (file: string, holder: object) => fs.writeFileSync(file, JSON.stringify(holder))

describe('the lock on a data folder', () => {
  it.each(['a free folder', 'a folder whose holder was killed'])(
    'is taken by one of eight in %s',
    async (state) => {
      const file = fileFor(state.replaceAll(' ', '-'))
      if (state.includes('killed'))
        leaveBehind(file, { pid: 999_999_999, birth: '1', machine: os.hostname() })
      const at = Date.now() + 1500
      const contenders = Array.from({ length: 8 }, () => contend(file, at))
      const said = await Promise.all(contenders.map((each) => each.said))
      expect(said.filter((word) => word === 'taken')).toHaveLength(1)
      await Promise.all(contenders.map((each) => each.kill()))
      expect(readHolder(file)).toBeNull()
    },
  )

  it('is not held by another program that got the same number', () => {
    const file = fileFor('same-number')
    leaveBehind(file, { pid: process.pid, birth: 'long ago', machine: os.hostname() })
    expect(readHolder(file)).toBeNull()
  })

  it('is not held by a killed process that nobody buried', async () => {
    const parent = spawn('/bin/sh', ['-c', 'sleep 0 & echo $!; exec sleep 30'], {
      stdio: ['ignore', 'pipe', 'inherit'],
    })
    const pid = await new Promise<number>((resolve) =>
      parent.stdout.once('data', (chunk) => resolve(Number(chunk))),
    )
    await new Promise((resolve) => setTimeout(resolve, 500))
    expect(() => process.kill(pid, 0)).not.toThrow()
    expect(readProcess(pid)).toBeNull()
    parent.kill('SIGKILL')
  })

  it('is held by another machine for as long as its heart beats', () => {
    const file = fileFor('elsewhere')
    leaveBehind(file, { pid: 1, birth: '1', machine: 'another-container' })
    expect(readHolder(file)).toMatchObject({ machine: 'another-container' })
    const aMinuteAgo = new Date(Date.now() - 60_000)
    fs.utimesSync(file, aMinuteAgo, aMinuteAgo)
    expect(readHolder(file)).toBeNull()
  })

  it('is free again when it was let go', () => {
    const file = fileFor('let-go')
    const lock = takeLock(file)
    if ('holder' in lock) throw new Error('it was not free')
    lock.update({ address: 'http://127.0.0.1:3000' })
    expect(readHolder(file)).toMatchObject({ address: 'http://127.0.0.1:3000' })
    expect(takeLock(file)).toHaveProperty('holder')
    lock.release()
    expect(readHolder(file)).toBeNull()
  })
})
