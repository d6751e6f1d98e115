import { type NextRequest, NextResponse } from 'next/server'
import { isDevelopment } from '@/lib/platform/env'
import {
  ADDRESS_HEADER,
  contentSecurityPolicy,
  isForeign,
  isSharedByLink,
  permissionsPolicy,
} from '@/lib/platform/web-policy'

const ONE_YEAR_SECONDS = 60 * 60 * 24 * 365

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
  response.headers.set('Permissions-Policy', permissionsPolicy(pathname))
  response.headers.set('Referrer-Policy', isSharedByLink(pathname) ? 'no-referrer' : 'same-origin')
  response.headers.set('X-Content-Type-Options', 'nosniff')
  response.headers.set('X-Frame-Options', 'DENY')
  response.headers.set('Cross-Origin-Opener-Policy', 'same-origin')
  response.headers.set('Cross-Origin-Resource-Policy', 'same-origin')
  response.headers.set('Cache-Control', 'private, no-store')
  if (isSharedByLink(pathname)) response.headers.set('X-Robots-Tag', 'noindex, nofollow')
  if (protocol === 'https') {
    response.headers.set('Strict-Transport-Security', `max-age=${ONE_YEAR_SECONDS}`)
  }
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

/** Built files carry no data and may be cached; their one header comes from next.config.ts. */
export const config = { matcher: ['/((?!_next/static/|icon\\.svg|manifest\\.webmanifest).*)'] }
