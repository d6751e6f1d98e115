// Imported into the web server and the jobs before anything else: when `up` vanishes, be it by kill -9,
// the channel to it closes and the child ends too, so that the port is free again.
import process from 'node:process'

process.on('disconnect', () => process.exit(1))
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {})
if (!process.connected) process.exit(1)
