import { parseCode } from './code'

/**
 * What a scanned text means here. Labels carry the address of their animal in this service, sheets that of their public
 * page; a bare code is understood too. Of an address only its path counts, so a scan never leads to another site.
 */
export type Scanned =
  | { status: 'label'; slug: string | null; code: string }
  | { status: 'public-page'; token: string }
  | { status: 'unknown'; text: string }

const LABEL = /^https?:\/\/[^/?#]+\/w\/([a-z0-9-]{1,80})\/c\/([A-Za-z0-9-]{1,8}(?:(?: |%20)[0-9]{1,6})?)$/
const PUBLIC_PAGE = /^https?:\/\/[^/?#]+\/p\/([A-Za-z0-9_-]{16,64})$/

export function readScanned(text: string): Scanned {
  const trimmed = text.trim()
  const [, slug, labelled] = LABEL.exec(trimmed) ?? []
  if (slug && labelled) return readCode(slug, labelled.replace('%20', ' '), trimmed)
  const [, token] = PUBLIC_PAGE.exec(trimmed) ?? []
  return token ? { status: 'public-page', token } : readCode(null, trimmed, trimmed)
}

function readCode(slug: string | null, written: string, text: string): Scanned {
  const parsed = parseCode(written)
  return parsed.status === 'ok' ? { status: 'label', slug, code: parsed.code } : { status: 'unknown', text }
}

/** Where a scan leads; null where it is nothing of this service. */
export function scannedAddress(scanned: Scanned, present: { slug: string }): string | null {
  if (scanned.status === 'label') return `/w/${scanned.slug ?? present.slug}/c/${scanned.code}`
  return scanned.status === 'public-page' ? `/p/${scanned.token}` : null
}
