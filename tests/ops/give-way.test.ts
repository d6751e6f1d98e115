import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import os from 'node:os'
import { describe, expect, test } from 'vitest'
import { type LabelPayload, renderLabelsOffThread } from '@/lib/documents/label/render'
import { letServiceGoFirst } from '@/lib/ops/backup/write'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { inTurn } from '@/lib/platform/in-turn'
import { ORDINAL } from '@/tests/documents/sheet-samples'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()
/** Nobody is lifted who was lower before. */
const LOWER = Math.max(os.getPriority(), os.constants.priority.PRIORITY_BELOW_NORMAL)

const LABEL: LabelPayload = {
  code: 'K7Q 97',
  scientificName: 'Hymenopus coronatus',
  stage: { moults: 1, isAdult: false, naming: ORDINAL },
  hatchedOn: '2026-11-02',
  url: 'https://oothecary.example/w/larch-lane/c/K7Q97',
}

/** The nineteenth field; the second, the name, may have spaces in it. */
const niceOf = (stat: string) => Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16])
const niceOfThreads = (pid: string) =>
  readdirSync(`/proc/${pid}/task`).map((id) => niceOf(readFileSync(`/proc/${pid}/task/${id}/stat`, 'utf8')))

/** The processes that one has started with such a file. */
const childrenOf = (pid: number, file: string) =>
  readdirSync(`/proc/${pid}/task`)
    .flatMap((id) => readFileSync(`/proc/${pid}/task/${id}/children`, 'utf8').trim().split(' '))
    .filter((child) => child && readFileSync(`/proc/${child}/cmdline`, 'utf8').includes(file))

// Only Linux tells and sets the priority of a thread, and shows the processes of a database.
describe.runIf(process.platform === 'linux')('what is done beside the service', () => {
  test('sets type in a process of a lower priority, and nothing else of its own', async () => {
    await renderLabelsOffThread({ language: 'en', labels: [LABEL] })
    const [typesetter, ...others] = childrenOf(process.pid, 'typeset-worker.mjs')
    expect(others).toEqual([])
    const threads = niceOfThreads(String(typesetter))
    expect(threads.length).toBeGreaterThan(1)
    expect(new Set(threads)).toEqual(new Set([LOWER]))
    expect(niceOfThreads('self')).not.toContain(LOWER)
  })

  test('runs jobs and backups as processes of a lower priority, with all their threads', () => {
    const script = `const fs = require('node:fs'); process.stdout.write(fs.readdirSync('/proc/self/task')
      .map((id) => require('node:os').getPriority(Number(id))).join(' '))`
    const args = ['--import', './lib/platform/give-way.mjs', '--eval', script]
    const threads = execFileSync(process.execPath, args, { encoding: 'utf8' }).split(' ')
    expect(new Set(threads)).toEqual(new Set([String(LOWER)]))
    expect(readFileSync('lib/ops/up/serve.mjs', 'utf8')).toMatch(/give-way\.mjs[\s\S]{0,80}jobs\.ts/)
    expect(JSON.parse(readFileSync('package.json', 'utf8')).scripts.backup).toContain('give-way.mjs')
  })

  test('has the database read for a backup at that priority too, and for nobody else', async () => {
    const niceOfBackend = async (url: string, isBackup: boolean) =>
      withConnection(url, async (client) => {
        if (isBackup) await letServiceGoFirst(client)
        const { rows } = await client.query('select pg_backend_pid() as pid')
        return niceOf(readFileSync(`/proc/${rows[0].pid}/stat`, 'utf8'))
      })
    expect(await niceOfBackend(database.urls.backup, true)).toBe(LOWER)
    expect(await niceOfBackend(database.urls.app, false)).toBeLessThan(LOWER)
  })
})

describe('drawings', () => {
  test('of one workspace wait for each other, so that a neighbour waits for one of them', async () => {
    const done: string[] = []
    let atOnce = 0
    const draw = (name: string) => async () => {
      atOnce += 1
      const together = atOnce
      await new Promise((resolve) => setTimeout(resolve, 5))
      atOnce -= 1
      done.push(name)
      if (name === 'loud 2') throw new Error('the paper is out')
      return together
    }
    const loud = Array.from({ length: 5 }, (_, at) => inTurn('loud', draw(`loud ${at + 1}`)))
    const quiet = inTurn('quiet', draw('quiet'))
    const outcomes = await Promise.allSettled([...loud, quiet])
    expect(done.indexOf('quiet')).toBeLessThan(2)
    expect(outcomes.map(({ status }) => status === 'fulfilled')).toEqual([
      true,
      false,
      true,
      true,
      true,
      true,
    ])
    expect(Math.max(...outcomes.map((each) => (each.status === 'fulfilled' ? each.value : 0)))).toBe(2)
  })
})
