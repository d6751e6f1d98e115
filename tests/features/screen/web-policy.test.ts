import { describe, expect, it } from 'vitest'
import {
  contentSecurityPolicy,
  fixedHeaders,
  isForeign,
  isSharedByLink,
  isSignedInDocument,
  moveAddress,
  permissionsPolicy,
} from '@/lib/platform/web-policy'

const page = (pathname: string) => contentSecurityPolicy({ nonce: 'abc', pathname, isDevelopment: false })
const asked = { method: 'POST', host: 'farm.example', protocol: null, origin: null }

describe('who may change something', () => {
  it('lets a page of the service record a moult', () => {
    expect(isForeign({ ...asked, origin: 'https://farm.example' })).toBe(false)
    expect(isForeign({ ...asked, origin: 'https://farm.example', protocol: 'https' })).toBe(false)
  })

  it('lets a sensor without any page post a temperature', () => {
    expect(isForeign(asked)).toBe(false)
  })

  it.each([
    'https://evil.example',
    'https://farm.example.evil.example',
    'https://farm.example:8443',
    'null',
    'nonsense',
    '',
  ])('refuses the page of another site: %s', (origin) => {
    expect(isForeign({ ...asked, origin })).toBe(true)
    expect(isForeign({ ...asked, origin, method: 'DELETE' })).toBe(true)
  })

  it('refuses the unencrypted twin of an encrypted service', () => {
    expect(isForeign({ ...asked, origin: 'http://farm.example', protocol: 'https' })).toBe(true)
  })

  it('lets an encrypted page write through a proxy that does not say it encrypts', () => {
    expect(isForeign({ ...asked, origin: 'https://farm.example', protocol: 'http' })).toBe(false)
  })

  it('lets anyone follow a link to a page', () => {
    expect(isForeign({ ...asked, method: 'GET', origin: 'https://evil.example' })).toBe(false)
    expect(isForeign({ ...asked, method: 'HEAD', origin: 'https://evil.example' })).toBe(false)
  })
})

describe('what a page may do', () => {
  it('runs no script that the server did not sign', () => {
    const script = page('/w/larch-lane')
      .split('; ')
      .find((part) => part.startsWith('script-src'))
    expect(script).toBe("script-src 'self' 'nonce-abc' 'strict-dynamic' 'wasm-unsafe-eval'")
  })

  it('may open the camera on every signed-in page, since a link inside the service keeps the document', () => {
    for (const pathname of ['/', '/w/larch-lane', '/w/larch-lane/clutches/1', '/workspaces']) {
      expect(isSignedInDocument(pathname)).toBe(true)
      expect(permissionsPolicy(pathname)).toContain('camera=(self)')
      expect(page(pathname)).toContain("'wasm-unsafe-eval'")
    }
  })

  it("opens no camera and runs no wasm on a buyer's page or before signing in", () => {
    for (const pathname of ['/p/k7q', '/sign-in', '/sign-up', '/invitation/abc', '/confirm/abc']) {
      expect(permissionsPolicy(pathname)).toContain('camera=()')
      expect(page(pathname)).not.toContain('wasm')
    }
  })

  it('is never framed, whatever it is', () => {
    for (const pathname of ['/', '/p/k7q', '/api/v1/zones', '/api/v1/a.pdf', '/p/sheet.pdf'])
      expect(page(pathname)).toContain("frame-ancestors 'none'")
  })

  it('is framed by our own pages alone where it is a file they print', () => {
    expect(page('/w/a/individuals/1/care-sheet.pdf')).toContain("frame-ancestors 'self'")
    expect(fixedHeaders('/w/a/individuals/1/care-sheet.pdf')['X-Frame-Options']).toBe('SAMEORIGIN')
    expect(fixedHeaders('/w/a/individuals/1')['X-Frame-Options']).toBe('DENY')
  })

  it("tells no one where a buyer's page was", () => {
    expect(isSharedByLink('/p/k7q')).toBe(true)
    expect(isSharedByLink('/w/p/animals')).toBe(false)
  })

  it('tells no one the secret of a mailed link', () => {
    for (const secret of ['/invitation/abc', '/reset-password/abc', '/confirm/abc'])
      expect(isSharedByLink(secret)).toBe(true)
    expect(isSharedByLink('/reset-password')).toBe(false)
  })
})

describe('a page whose workspace has another address now', () => {
  const move = { from: 'old-shelf', to: 'new-shelf' }

  it('is found under the new one, with everything behind it', () => {
    expect(moveAddress('/w/old-shelf/c/K7Q97?print=1', move)).toBe('/w/new-shelf/c/K7Q97?print=1')
    expect(moveAddress('/w/old-shelf', move)).toBe('/w/new-shelf')
  })

  it('is never looked for elsewhere, whatever the request says', () => {
    expect(moveAddress(null, move)).toBe('/w/new-shelf')
    expect(moveAddress('//other.site/w/old-shelf/c/K7Q97', move)).toBe('/w/new-shelf')
    expect(moveAddress('/w/old-shelf-of-another/zones', move)).toBe('/w/new-shelf')
  })
})
