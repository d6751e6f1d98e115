// A page without a connection: the bench, or the counter at a show. This worker answers for two things and nothing else:
// its page itself, network first, and the built files, which never change under their names, cache first. No other page
// and no record passes through it; what is private is asked for by the page and kept by the page. BUILD and PAGE are put
// in when it is served.
const BUILD = '__BUILD__'
const PAGE = '__PAGE__'
const OWN = `${PAGE.slice(1)}-`
const CACHE = `${OWN}${BUILD}`
const FILES = '/_next/static/'
const PATIENCE_MS = 4000

self.addEventListener('install', (event) => {
  // Without a cookie: what is kept is the same for everybody.
  const asked = fetch(PAGE, { cache: 'no-store', credentials: 'omit' })
  event.waitUntil(asked.then((response) => keepPage(response)))
})

/** Takes over pages that are open already; what an older build has kept goes when its last page has gone. */
self.addEventListener('activate', (event) => {
  event.waitUntil(Promise.all([self.clients.claim(), forgetOlder()]))
})

self.addEventListener('fetch', (event) => {
  const { request } = event
  const { origin, pathname } = new URL(request.url)
  if (request.method !== 'GET' || origin !== self.location.origin) return
  if (request.mode === 'navigate' && pathname === PAGE) event.respondWith(answerPage(event))
  else if (pathname.startsWith(FILES)) event.respondWith(answerFile(request))
})

async function forgetOlder() {
  const names = await caches.keys()
  const older = names.filter((name) => name.startsWith(OWN) && name !== CACHE)
  await Promise.all(older.map((name) => caches.delete(name)))
}

/** The page as the service has it now; the copy where it does not answer in time. */
async function answerPage(event) {
  const cache = await caches.open(CACHE)
  try {
    const response = await fetch(event.request, { signal: AbortSignal.timeout(PATIENCE_MS) })
    if (!response.ok) throw new Error(`the service said ${response.status}`)
    const copy = keepPage(response.clone())
    event.waitUntil(copy.catch(() => undefined)) // the older copy stays, and is whole
    return response
  } catch {
    return (await cache.match(PAGE, { ignoreVary: true })) ?? Response.error()
  }
}

async function answerFile(request) {
  const cache = await caches.open(CACHE)
  const kept = await cache.match(request, { ignoreVary: true })
  if (kept) return kept
  const response = await fetch(request)
  if (response.ok) await cache.put(request, response.clone())
  return response
}

/** Keeps a page only together with every file it names, so that a copy always opens whole. */
async function keepPage(response) {
  if (!response.ok || response.redirected || response.type !== 'basic') throw new Error('no page to keep')
  const cache = await caches.open(CACHE)
  const text = await response.clone().text()
  const files = listFiles(text, self.location.href)
  await Promise.all(files.map((file) => keepFile(cache, file)))
  await cache.put(PAGE, response)
}

async function keepFile(cache, file) {
  if (await cache.match(file, { ignoreVary: true })) return
  const response = await fetch(file)
  if (!response.ok) throw new Error(`${file}: ${response.status}`)
  const inside = file.endsWith('.css') ? listFiles(await response.clone().text(), file) : []
  await Promise.all(inside.map((each) => keepFile(cache, each)))
  await cache.put(file, response)
}

/** The built files that a page or a style sheet names: whole addresses, or relative ones in url(). */
function listFiles(text, base) {
  const named = [...text.matchAll(/\/_next\/static\/[\w./~@%-]+\.(?:js|css|woff2?)/g)].map(([found]) => found)
  const relative = [...text.matchAll(/url\(["']?([^"')]+\.woff2?)["']?\)/g)].map(([, found]) => found)
  const addresses = [...named, ...relative].map((found) => new URL(found, base).pathname)
  return [...new Set(addresses)]
    .filter((path) => path.startsWith(FILES))
    .map((path) => new URL(path, base).href)
}
