import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { scopeRules } from '@/tests/architecture/rules/scope'
import { loadProject, readText } from '@/tests/architecture/source/project'
import { isLong, SEED, sampleOf } from '@/tests/support/sample'
import { listDatabaseGuards } from './database-guards'
import { applyEdits, buildCopy, copyProject, listFailures, type Removal, removeCopy } from './removal'
import { BUILT_GUARDS, SOURCE_GUARDS } from './source-guards'

const SAMPLE = 6

const adminUrl = String(process.env.TEST_DATABASE_URL)

async function asAdmin<T>(database: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const url = new URL(adminUrl)
  url.pathname = `/${database}`
  const client = new pg.Client({ connectionString: url.href })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

/** The template once more, with a guard taken out of it. */
async function makeTemplateWithout(removal: Removal): Promise<string> {
  const name = `without_${Math.abs(hash(removal.guard))}`
  await asAdmin('postgres', async (client) => {
    await client.query(`drop database if exists ${name} with (force)`)
    await client.query(`create database ${name} template oothecary_template`)
  })
  await asAdmin(name, (client) => client.query(`set role oothecary_owner; ${removal.sql}`))
  return name
}

const hash = (text: string) => [...text].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) | 0, 7)

describe(`with a guard taken out of the database, a test fails (seed ${SEED})`, () => {
  let guards: Removal[]
  beforeAll(async () => {
    await asAdmin('postgres', async (client) => {
      await client.query('drop database if exists without_nothing with (force)')
      await client.query('create database without_nothing template oothecary_template')
    })
    guards = await asAdmin('without_nothing', listDatabaseGuards)
  })
  afterAll(() =>
    asAdmin('postgres', (client) => client.query('drop database if exists without_nothing with (force)')),
  )

  it('which can be said of more than a hundred guards', () => {
    expect(guards.length).toBeGreaterThan(100)
    expect(new Set(guards.map(({ guard }) => guard)).size).toBe(guards.length)
  })

  it(isLong ? 'for every one of them' : `for ${SAMPLE} of them`, async () => {
    const unnoticed: string[] = []
    const waiting = sampleOf('guards of the database', guards, SAMPLE)
    const tryThem = async () => {
      for (let removal = waiting.shift(); removal; removal = waiting.shift()) {
        const template = await makeTemplateWithout(removal)
        const failures = await listFailures(process.cwd(), removal, { TEST_TEMPLATE: template })
        await asAdmin('postgres', (client) => client.query(`drop database ${template} with (force)`))
        if (failures.length === 0) unnoticed.push(removal.guard)
      }
    }
    await Promise.all([tryThem(), tryThem()])
    expect(unnoticed).toEqual([])
  }, 7_200_000)
})

describe(`with a guard taken out of the source, a test fails (seed ${SEED})`, () => {
  const chosen = sampleOf('guards in the source', SOURCE_GUARDS, SAMPLE).concat(isLong ? BUILT_GUARDS : [])
  afterAll(() => removeCopy('source'))

  it.each(chosen)(
    'without $guard',
    async (removal) => {
      const folder = copyProject('source')
      applyEdits(folder, removal)
      if (removal.isBuilt) await buildCopy(folder)
      const env: Record<string, string> = removal.isBuilt ? { DIST_DIR: '.next' } : {}
      expect(await listFailures(folder, removal, env)).not.toEqual([])
    },
    1_800_000,
  )

  it('while the same tests pass with all of them in place', async () => {
    const folder = copyProject('source')
    // The project's own run has them all; one shows that a copy passes as the project does.
    const all = [...new Set(chosen.flatMap((each) => (each.isBuilt ? [] : each.tests)))]
    const tests = sampleOf('tests of a whole copy', all, 1)
    expect(await listFailures(folder, { guard: 'nothing', tests }, {})).toEqual([])
  }, 1_800_000)

  it.runIf(isLong)(
    'and the built service passes them too',
    async () => {
      const folder = copyProject('source')
      await buildCopy(folder)
      const tests = [...new Set(BUILT_GUARDS.flatMap((each) => each.tests))]
      expect(await listFailures(folder, { guard: 'nothing built', tests }, { DIST_DIR: '.next' })).toEqual([])
    },
    1_800_000,
  )

  it('and every removal still finds what it takes out', () => {
    const texts = new Map(loadProject().map(({ path, text }) => [path, text]))
    const lost = [...SOURCE_GUARDS, ...BUILT_GUARDS].filter(({ edits = [] }) =>
      edits.some(({ path, find }) => !texts.get(path)?.includes(find)),
    )
    expect(lost.map(({ guard }) => guard)).toEqual([])
  })
})

describe('with the workspace taken out of any one condition', () => {
  it('a rule of the house names the file and the line', () => {
    const files = loadProject().filter(({ path }) =>
      /^lib\/features\/[^/]+\/(data|mutations)\.ts$/.test(path),
    )
    let tried = 0
    for (const { path, text } of files) {
      for (const { index, 0: found } of text.matchAll(/where: \{\s*workspaceId(,|\s*\}| \})/g)) {
        const stripped = `${text.slice(0, index)}${found.replace(/workspaceId,?/, '')}${text.slice(index + found.length)}`
        const noticed = scopeRules.flatMap((rule) => rule.check([readText(path, stripped)]))
        const line = text.slice(0, index).split('\n').length
        expect([path, line, noticed.length > 0]).toEqual([path, line, true])
        tried += 1
      }
    }
    expect(tried).toBeGreaterThan(30)
  })
})
