import { createHash, createHmac, randomBytes } from 'node:crypto'
import { env } from '@/lib/platform/env'

/** 256 random bits as text that can stand in an address. */
export function createSecret(): string {
  return randomBytes(32).toString('base64url')
}

/** What is stored instead of a secret. The secrets are random and long, so a fast hash is enough. */
export function hashSecret(secret: string): Uint8Array<ArrayBuffer> {
  return new Uint8Array(createHash('sha256').update(secret).digest())
}

/**
 * The token of a public link: the first 160 bits of an HMAC over the link and its generation. It can be computed
 * again for a reprint, and raising the generation revokes it.
 */
export function publicLinkToken(linkId: string, generation: number): string {
  const mac = createHmac('sha256', env().LINK_KEY).update(`${linkId}:${generation}`).digest()
  return mac.subarray(0, 20).toString('base64url')
}
