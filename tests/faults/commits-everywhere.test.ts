import fs from 'node:fs'
import type pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { seededStream } from '@/lib/domain/random/seeded'
import { listFailures } from '@/tests/removals/removal'
import { withClient } from '@/tests/support/clone'
import { failingCommits } from '@/tests/support/failing-commits'

const SEED = process.env.TEST_SEED ?? '1'
const SAMPLE = 4
const TEMPLATE = 'oothecary_failing_commits'
const REPORTS = 'test-output/removals'

const asAdmin = <T>(name: string, work: (client: pg.Client) => Promise<T>): Promise<T> => {
  const url = new URL(String(process.env.TEST_DATABASE_URL))
  url.pathname = `/${name}`
  return withClient(url.href, work)
}

const listFeatureTests = () =>
  fs
    .readdirSync('tests/features', { recursive: true, encoding: 'utf8' })
    .flatMap((name) => (name.endsWith('.test.ts') ? [`tests/features/${name}`] : []))

/** All of them in a long run, a few drawn from the seed in a short one. */
const chooseTests = () =>
  process.env.TEST_LONG
    ? listFeatureTests()
    : seededStream(`commits ${SEED}`).shuffle(listFeatureTests()).slice(0, SAMPLE)

beforeAll(async () => {
  fs.mkdirSync(REPORTS, { recursive: true })
  await asAdmin('postgres', async (client) => {
    await client.query(`drop database if exists ${TEMPLATE} with (force)`)
    await client.query(`create database ${TEMPLATE} template oothecary_template`)
  })
  await asAdmin(TEMPLATE, (client) => client.query(failingCommits(SEED)))
})
afterAll(() =>
  asAdmin('postgres', (client) => client.query(`drop database if exists ${TEMPLATE} with (force)`)),
)

describe(`a service of which every tenth commit fails (seed ${SEED})`, () => {
  const tests = chooseTests()
  it(`does all that is asked of it in ${tests.length} files of tests`, async () => {
    const removal = { guard: 'commits that fail', tests }
    expect(await listFailures(process.cwd(), removal, { TEST_TEMPLATE: TEMPLATE })).toEqual([])
  }, 3_600_000)
})
