import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { type LabelPayload, renderLabelsOffThread } from '@/lib/documents/label/render'
import { programBuilder } from '@/lib/domain/program/linear'
import { letServiceGoFirst } from '@/lib/ops/backup/write'
import { withConnection } from '@/lib/ops/database/connection.mjs'
import { inTurn } from '@/lib/platform/in-turn'
import { solveProgram } from '@/lib/platform/solver'
import { ORDINAL } from '@/tests/documents/sheet-samples'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()
const LOWEST = 19

const LABEL: LabelPayload = {
  code: 'K7Q 97',
  scientificName: 'Hymenopus coronatus',
  stage: { moults: 1, isAdult: false, naming: ORDINAL },
  hatchedOn: '2026-11-02',
  url: 'https://oothecary.example/w/larch-lane/c/K7Q97',
}

/** The nineteenth field; the second, the name, may have spaces in it. */
const niceOf = (stat: string) => Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[16])
const niceOfThreads = () =>
  readdirSync('/proc/self/task').map((id) => niceOf(readFileSync(`/proc/self/task/${id}/stat`, 'utf8')))

// Only Linux tells and sets the priority of a thread, and shows the processes of a database.
describe.runIf(process.platform === 'linux')('what is done beside the service', () => {
  const own = niceOf(readFileSync('/proc/self/stat', 'utf8'))
  const low = () => niceOfThreads().filter((nice) => nice === LOWEST).length

  test('sets type and solves plans on threads of the lowest priority, and leaves the others theirs', async () => {
    expect(low()).toBe(0)
    await renderLabelsOffThread({ language: 'en', labels: [LABEL] })
    const typesetting = low()
    expect(typesetting).toBeGreaterThan(0)
    const builder = programBuilder()
    builder.addRow([[builder.addColumn({ cost: 1 }), 1]], { lower: 2 })
    expect(await solveProgram(builder.build())).toMatchObject({ status: 'optimal', cost: 2 })
    expect(low()).toBeGreaterThan(typesetting)
    expect(niceOf(readFileSync('/proc/self/stat', 'utf8'))).toBe(own)
  })

  test('runs jobs and backups as processes of the lowest priority', () => {
    const script = 'process.stdout.write(String(require("node:os").getPriority()))'
    const args = ['--import', './lib/platform/give-way.mjs', '--eval', script]
    expect(execFileSync(process.execPath, args, { encoding: 'utf8' })).toBe(String(LOWEST))
    for (const file of ['lib/ops/jobs.ts', 'lib/ops/backup.ts'])
      expect(readFileSync(file, 'utf8')).toContain("import '@/lib/platform/give-way.mjs'")
  })

  test('has the database read for a backup at that priority too, and for nobody else', async () => {
    const niceOfBackend = async (url: string, isBackup: boolean) =>
      withConnection(url, async (client) => {
        if (isBackup) await letServiceGoFirst(client)
        const { rows } = await client.query('select pg_backend_pid() as pid')
        return niceOf(readFileSync(`/proc/${rows[0].pid}/stat`, 'utf8'))
      })
    expect(await niceOfBackend(database.urls.backup, true)).toBe(LOWEST)
    expect(await niceOfBackend(database.urls.app, false)).toBeLessThan(LOWEST)
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
