// Imported into the web server, the jobs and the making of the demo before anything else: when `up` vanishes, be it by kill -9,
// the channel to it closes and the child ends too, so that the port is free again.
import process from 'node:process'
import { isMainThread } from 'node:worker_threads'

for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {})
// A thread of the server imports this as well, and has no channel of its own: it goes with its process.
if (isMainThread) {
  process.on('disconnect', () => process.exit(1))
  if (!process.connected) process.exit(1)
}
