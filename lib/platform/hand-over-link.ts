import { createHmac, timingSafeEqual } from 'node:crypto'
import { env } from '@/lib/platform/env'
import { mintScope, type Scope } from '@/lib/platform/workspace'

const ID_BYTES = 16
const MAC_BYTES = 20

/**
 * The code with which another workspace takes animals over: which workspace offers them, which offer it is, and the
 * first 160 bits of an HMAC over both. Whoever has it was given it; nothing of it is stored.
 */
export function handOverCode({ workspaceId, id }: { workspaceId: string; id: string }): string {
  return Buffer.concat([bytesOf(workspaceId), bytesOf(id), macOf(workspaceId, id)]).toString('base64url')
}

/** The gate of a hand-over: a code that was made here mints the scope of the offering workspace, for that offer alone. */
export function readHandOverCode(code: string): { scope: Scope; id: string } | undefined {
  const bytes = Buffer.from(code.trim(), 'base64url')
  // Exactly as it was given: the last letter of a text in base 64 has bits to spare.
  if (bytes.length !== 2 * ID_BYTES + MAC_BYTES || bytes.toString('base64url') !== code.trim())
    return undefined
  const [workspaceId, id] = [idOf(bytes.subarray(0, ID_BYTES)), idOf(bytes.subarray(ID_BYTES, 2 * ID_BYTES))]
  if (!timingSafeEqual(bytes.subarray(2 * ID_BYTES), macOf(workspaceId, id))) return undefined
  return { scope: mintScope({ workspaceId, personId: null, role: 'viewer' }), id }
}

function macOf(workspaceId: string, id: string): Buffer {
  const mac = createHmac('sha256', env().LINK_KEY).update(`hand-over:${workspaceId}:${id}`).digest()
  return mac.subarray(0, MAC_BYTES)
}

const bytesOf = (id: string) => Buffer.from(id.replaceAll('-', ''), 'hex')

function idOf(bytes: Buffer): string {
  const hex = bytes.toString('hex')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}
