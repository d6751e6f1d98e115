// Installs and nothing else, for an image that keeps its layers apart.
import { runCommandBody } from './say.mjs'
import { makeReady } from './setup/ready.mjs'

await runCommandBody(() => makeReady())
