// Imports a command written in TypeScript and runs its `main`, or the `run` of a benchmark.
import process from 'node:process'
import { pathToFileURL } from 'node:url'
import { runCommandBody } from '../say.mjs'

// A channel to who started it says when that one is gone; it is no reason to stay when the work is done.
process.channel?.unref()

await runCommandBody(async () => {
  const [file, ...args] = process.argv.slice(2)
  const { main, run } = await import(pathToFileURL(file).href)
  await (main ?? run)(args)
})
