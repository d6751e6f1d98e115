// A server that stands at its address itself, and how it stops: nothing new comes in, what is in flight is finished.

export function listen(server, options) {
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(options, resolve)
  })
}

/** @returns once everything was answered, or `graceMs` later */
export async function drainServer(server, graceMs) {
  const lastWord = (_, response) => response.headersSent || response.setHeader('Connection', 'close')
  server.prependListener('request', lastWord)
  const closed = new Promise((resolve) => server.close(resolve))
  const closeIdle = setInterval(() => server.closeIdleConnections(), 100)
  const giveUp = setTimeout(() => server.closeAllConnections(), graceMs)
  await closed
  clearInterval(closeIdle)
  clearTimeout(giveUp)
}

/** @returns {Promise<{drain: (graceMs: number) => Promise<void>}>} */
export async function openPlainly(server, place) {
  await listen(server, place)
  return { drain: (graceMs) => drainServer(server, graceMs) }
}
