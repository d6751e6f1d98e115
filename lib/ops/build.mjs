// npm run build
import { runCommandBody } from './say.mjs'
import { makeReady } from './setup/ready.mjs'

await runCommandBody(() => makeReady({ built: true }))
