// npm run draft -- NAME: the SQL that takes the migrations so far to prisma/schema, as the beginning of a new
// migration. Checks, triggers, policies and grants are written into it by hand.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from './place.mjs'
import { Refusal, runCommandBody, say } from './say.mjs'
import { makeReady } from './setup/ready.mjs'

function readName() {
  const name = process.argv[2] ?? ''
  if (/^[a-z][a-z0-9_]*$/.test(name)) return name
  throw new Refusal('Name the migration in small letters: npm run draft -- add_something')
}

function writeMigration(name, sql) {
  const moment = new Date().toISOString().replace(/\D/g, '').slice(0, 14)
  const folder = inProject('prisma/migrations', `${moment}_${name}`)
  fs.mkdirSync(folder)
  fs.writeFileSync(`${folder}/migration.sql`, sql)
  say(`Written: ${folder}/migration.sql`)
}

await runCommandBody(async () => {
  const name = readName()
  await makeReady({ generated: true })
  const { withMigratedScratch } = await import('./testing/scratch.mjs')
  const { compareWithSchema } = await import('./schema/engine.mjs')
  const sql = await withMigratedScratch((url) => compareWithSchema(url, { isScript: true }))
  if (sql === null) say('The migrations already say what prisma/schema says.')
  else writeMigration(name, sql)
})
