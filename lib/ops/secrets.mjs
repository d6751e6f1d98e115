// Passwords and keys, made once. They never leave the data folder except as environment of the children.
import { randomBytes } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { Refusal } from './say.mjs'

const random = (bytes) => randomBytes(bytes).toString('base64url')

const makeSecrets = () => ({
  passwords: {
    superuser: random(24),
    app: random(24),
    auth: random(24),
    jobs: random(24),
    backup: random(24),
  },
  authSecret: random(32),
  actionKey: randomBytes(32).toString('base64'),
  linkKey: random(32),
})

const fileOf = (dataFolder) => path.join(dataFolder, 'secrets.json')

function parseSecrets(file) {
  const whole = fs.readFileSync(file, 'utf8')
  try {
    const secrets = JSON.parse(whole)
    if (secrets.passwords && secrets.authSecret && secrets.actionKey && secrets.linkKey) return secrets
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error
  }
  throw new Refusal(`${file} is damaged. Put back a copy of it: without it the database cannot be opened.`)
}

export function readSecrets(dataFolder) {
  if (fs.existsSync(fileOf(dataFolder))) return parseSecrets(fileOf(dataFolder))
  throw new Refusal(`There is no ${fileOf(dataFolder)} yet. Start Oothecary once first: npm run up`)
}

/** Flushed to the disk before anything is locked with them: a lost password file is a lost database. */
function writeSecrets(file, secrets) {
  const draft = `${file}.draft`
  fs.rmSync(draft, { force: true })
  const handle = fs.openSync(draft, 'wx', 0o600)
  fs.writeSync(handle, `${JSON.stringify(secrets, null, 2)}\n`)
  fs.fsyncSync(handle)
  fs.closeSync(handle)
  fs.renameSync(draft, file)
}

export function loadOrMakeSecrets(dataFolder, hasDatabase) {
  const file = fileOf(dataFolder)
  if (fs.existsSync(file)) return parseSecrets(file)
  if (hasDatabase) {
    throw new Refusal(
      `${dataFolder} holds a database but its secrets.json is gone. Put back a copy of it: without it the database cannot be opened.`,
    )
  }
  writeSecrets(file, makeSecrets())
  return parseSecrets(file)
}
