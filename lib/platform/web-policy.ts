/**
 * What the browser is told about each answer, as plain functions of the request so that they can be tested
 * without a server. Authorisation is not here: it lives with the data.
 */

/** Where the proxy tells a page its own address, for leading someone on to it elsewhere. */
export const ADDRESS_HEADER = 'x-oothecary-address'

/** The same page under the workspace's present address; its first page where the request's is not known. */
export function moveAddress(address: string | null, { from, to }: { from: string; to: string }): string {
  const rest = address?.startsWith(`/w/${from}/`) ? address.slice(`/w/${from}`.length) : ''
  return `/w/${to}${rest}`
}

/** Documents on which nobody is signed in. Everything else may carry the scanner, reached by an in-app link. */
const PUBLIC_PREFIXES = [
  '/p/',
  '/sign-in',
  '/sign-up',
  '/invitation',
  '/reset-password',
  '/confirm/',
  '/api/',
]

export function isSignedInDocument(pathname: string): boolean {
  return !PUBLIC_PREFIXES.some((prefix) => pathname === prefix || pathname.startsWith(prefix))
}

/** A page whose address is itself a secret, behind a printed code or a mailed link: no index, no referrer. */
export function isSharedByLink(pathname: string): boolean {
  return ['/p/', '/invitation/', '/reset-password/', '/confirm/'].some((prefix) =>
    pathname.startsWith(prefix),
  )
}

/** Answers that no browser shows as a page. The reference of the API stands beside it and is one. */
function isForMachines(pathname: string): boolean {
  return (pathname.startsWith('/api/') && pathname !== '/api/v1/docs') || pathname.endsWith('.pdf')
}

/** A file that our own pages print from a frame nobody sees; no other site may frame it. */
function isPrintedFile(pathname: string): boolean {
  return pathname.startsWith('/w/') && pathname.endsWith('.pdf')
}

/**
 * The policy belongs to the document, not to the route inside it: a person who goes from the clutch to the
 * counter by a link keeps the policy of the clutch, so all signed-in documents may run wasm and the camera.
 * Styles may be inline (focus rings of the primitives, positions in drawings); scripts never.
 */
export function contentSecurityPolicy(page: {
  nonce: string
  pathname: string
  isDevelopment: boolean
}): string {
  if (isForMachines(page.pathname)) {
    return isPrintedFile(page.pathname)
      ? MACHINE_POLICY.replace("frame-ancestors 'none'", "frame-ancestors 'self'")
      : MACHINE_POLICY
  }
  const script = ["'self'", `'nonce-${page.nonce}'`, "'strict-dynamic'"]
  if (isSignedInDocument(page.pathname)) script.push("'wasm-unsafe-eval'")
  // The development server of the framework rebuilds stacks with eval; the production build never does.
  if (page.isDevelopment) script.push("'unsafe-eval'")
  return [
    "default-src 'self'",
    `script-src ${script.join(' ')}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "media-src 'self' blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ')
}

/**
 * The headers of every answer that depend on nothing but its address. The API gives them to requests without an Origin
 * by configuration, so that a call by a token does not pass through the proxy: that costs as much as its query.
 */
export function fixedHeaders(pathname: string): Record<string, string> {
  return {
    'Permissions-Policy': permissionsPolicy(pathname),
    'Referrer-Policy': isSharedByLink(pathname) ? 'no-referrer' : 'same-origin',
    'X-Content-Type-Options': 'nosniff',
    'X-Frame-Options': isPrintedFile(pathname) ? 'SAMEORIGIN' : 'DENY',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Cache-Control': 'private, no-store',
    ...(isSharedByLink(pathname) ? { 'X-Robots-Tag': 'noindex, nofollow' } : {}),
  }
}

const ONE_YEAR_SECONDS = 60 * 60 * 24 * 365
export const STRICT_TRANSPORT = { name: 'Strict-Transport-Security', value: `max-age=${ONE_YEAR_SECONDS}` }

/** What no browser shows as a page may load nothing at all. */
export const MACHINE_POLICY =
  "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

export function permissionsPolicy(pathname: string): string {
  const camera = isSignedInDocument(pathname) ? 'camera=(self)' : 'camera=()'
  const wakeLock = isSignedInDocument(pathname) ? 'screen-wake-lock=(self)' : 'screen-wake-lock=()'
  return [
    camera,
    wakeLock,
    'microphone=()',
    'geolocation=()',
    'payment=()',
    'usb=()',
    'serial=()',
    'browsing-topics=()',
  ].join(', ')
}

type Asked = { method: string; origin: string | null; host: string | null; protocol: string | null }

/**
 * True for a request that could change something and was sent by another site's page. A request without an
 * Origin comes from no page (a sensor, a script) and is judged by its token alone. `protocol` is what the
 * TLS proxy in front said, or what the server itself speaks: "http" also stands for a proxy that says nothing,
 * so only a service known to be encrypted can refuse its unencrypted twin.
 */
export function isForeign(asked: Asked): boolean {
  if (asked.method === 'GET' || asked.method === 'HEAD') return false
  if (asked.origin === null) return false
  if (!URL.canParse(asked.origin)) return true
  const origin = new URL(asked.origin)
  if (asked.host === null || origin.host !== asked.host.toLowerCase()) return true
  return asked.protocol === 'https' && origin.protocol !== 'https:'
}
