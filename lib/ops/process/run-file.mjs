// Imports a command written in TypeScript and runs its `main`.
import process from 'node:process'
import { pathToFileURL } from 'node:url'
import { runCommandBody } from '../say.mjs'

await runCommandBody(async () => {
  const [file, ...args] = process.argv.slice(2)
  const { main } = await import(pathToFileURL(file).href)
  await main(args)
})
