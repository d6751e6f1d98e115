import { type NextRequest, NextResponse } from 'next/server'
import { isDevelopment } from '@/lib/platform/env'
import {
  ADDRESS_HEADER,
  contentSecurityPolicy,
  fixedHeaders,
  isForeign,
  STRICT_TRANSPORT,
} from '@/lib/platform/web-policy'

/** The first of a forwarded list is what the outermost proxy saw. */
function firstOf(header: string | null): string | null {
  return header?.split(',')[0]?.trim() || null
}

/** Headers only. Who may see or change what is decided where the data is read, never here. */
export function proxy(request: NextRequest): NextResponse {
  const { pathname } = request.nextUrl
  const protocol = firstOf(request.headers.get('x-forwarded-proto'))
  const asked = {
    method: request.method,
    origin: request.headers.get('origin'),
    host: firstOf(request.headers.get('x-forwarded-host')) ?? request.headers.get('host'),
    protocol,
  }
  const nonce = Buffer.from(crypto.getRandomValues(new Uint8Array(16))).toString('base64')
  const policy = contentSecurityPolicy({
    nonce,
    pathname,
    isDevelopment: isDevelopment(),
  })
  const response = isForeign(asked) ? refuseForeign() : passOn(request, policy)

  response.headers.set('Content-Security-Policy', policy)
  for (const [name, value] of Object.entries(fixedHeaders(pathname))) response.headers.set(name, value)
  if (protocol === 'https') response.headers.set(STRICT_TRANSPORT.name, STRICT_TRANSPORT.value)
  return response
}

/** The framework reads the nonce for its own scripts from the policy on the request. */
function passOn(request: NextRequest, policy: string): NextResponse {
  const headers = new Headers(request.headers)
  headers.set('Content-Security-Policy', policy)
  // Set on every request, so that what a caller sends under this name never counts.
  headers.set(ADDRESS_HEADER, `${request.nextUrl.pathname}${request.nextUrl.search}`)
  return NextResponse.next({ request: { headers } })
}

function refuseForeign(): NextResponse {
  const problem = {
    type: 'about:blank',
    title: 'Forbidden',
    status: 403,
    detail: 'This request was sent by a page of another site.',
  }
  return new NextResponse(JSON.stringify(problem), {
    status: 403,
    headers: { 'Content-Type': 'application/problem+json' },
  })
}

/**
 * Built files and the reader of codes carry no data and may be cached; their one header comes from next.config.ts. So do the headers of a call of
 * the JSON API by something that is not a page: it is judged by its token alone, and has nothing to refuse here.
 */
export const config = {
  matcher: [
    '/((?!_next/static/|icon\\.svg|manifest\\.webmanifest|scanner/reader\\.wasm|api/v1/(?!docs$)).*)',
    { source: '/api/v1/:path*', has: [{ type: 'header', key: 'origin' }] },
  ],
}
