// Free ports, and whether a given one is.
import net from 'node:net'

/** 'free', or the system's word for why not: EADDRINUSE, EACCES, EADDRNOTAVAIL, ENOTFOUND. */
export function tryPort(host, port) {
  return new Promise((resolve) => {
    const server = net.createServer()
    server.once('error', (error) => resolve(error.code ?? 'EADDRINUSE'))
    server.listen({ host, port, exclusive: true }, () => server.close(() => resolve('free')))
  })
}

export function findFreePort(host = '127.0.0.1') {
  return new Promise((resolve, reject) => {
    const server = net.createServer()
    server.once('error', reject)
    server.listen({ host, port: 0 }, () => {
      const { port } = server.address()
      server.close(() => resolve(port))
    })
  })
}

/** A server that was killed a moment ago lets go within a second: wait that long before calling it taken. */
export async function waitForPort(host, port) {
  for (let attempt = 0; ; attempt += 1) {
    const state = await tryPort(host, port)
    if (state !== 'EADDRINUSE' || attempt >= 10) return state
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
}
