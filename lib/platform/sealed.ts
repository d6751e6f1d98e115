import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto'
import { env } from '@/lib/platform/env'

const NONCE_BYTES = 12
const TAG_BYTES = 16

function key(): Buffer {
  return Buffer.from(hkdfSync('sha256', env().AUTH_SECRET, '', 'oothecary second factor', 32))
}

/** AES-256-GCM with a key that follows from the service's own secret: a copy of the database alone opens nothing. */
export function seal(plain: Uint8Array, owner: string): Buffer {
  const nonce = randomBytes(NONCE_BYTES)
  const cipher = createCipheriv('aes-256-gcm', key(), nonce).setAAD(Buffer.from(owner))
  const text = Buffer.concat([cipher.update(plain), cipher.final()])
  return Buffer.concat([nonce, cipher.getAuthTag(), text])
}

/** @throws Error when it was sealed under another secret, or for somebody else */
export function unseal(sealed: Uint8Array, owner: string): Buffer {
  const bytes = Buffer.from(sealed)
  const decipher = createDecipheriv('aes-256-gcm', key(), bytes.subarray(0, NONCE_BYTES))
    .setAAD(Buffer.from(owner))
    .setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES))
  return Buffer.concat([decipher.update(bytes.subarray(NONCE_BYTES + TAG_BYTES)), decipher.final()])
}
