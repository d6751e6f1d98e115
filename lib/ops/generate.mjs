// npm run generate
import { runCommandBody } from './say.mjs'
import { makeReady } from './setup/ready.mjs'

await runCommandBody(() => makeReady({ generated: true }))
