// What a person reads once it runs.
import fs from 'node:fs'
import process from 'node:process'
import { inProject } from '../place.mjs'
import { say } from '../say.mjs'
import { isLoopback } from '../settings.mjs'

/** Kept as data because the demo, the README's test and this message all need it. */
const readDemoSignIn = () => JSON.parse(fs.readFileSync(inProject('prisma/seed/demo-sign-in.json'), 'utf8'))

export function printReady({ address, settings, dataFolder }) {
  say(`\nOothecary is ready: ${address}`)
  if (settings.hasDemo) {
    const { email, password } = readDemoSignIn()
    say(`Demo sign-in: ${email}  password: ${password}`)
    if (!isLoopback(settings.host)) {
      say(
        'The demo sign-in is public knowledge and this address can be reached by others: set DEMO=off and start with an empty DATA_DIR.',
      )
    }
  }
  say(`Data: ${dataFolder}`)
}

export function printHolder(holder, dataFolder) {
  const who = `(process ${holder.pid}, data in ${dataFolder})`
  if (holder.state === 'ready') return say(`Oothecary is already running: ${holder.address} ${who}`)
  process.exitCode = 1
  if (holder.state === 'command')
    return say(`A command is using the data ${who}. Start again when it has finished.`)
  say(`Oothecary is already starting ${who}; its address will be printed there.`)
}
