import { createHmac, timingSafeEqual } from 'node:crypto'
import { CODE_DIGITS, STEP_SECONDS } from '@/lib/domain/person/second-factor'

/** RFC 6238 over RFC 4226: the code of a step, HMAC-SHA-1 with dynamic truncation. */
export function codeOfStep(secret: Uint8Array, step: number, digits = CODE_DIGITS): string {
  const counter = Buffer.alloc(8)
  counter.writeBigUInt64BE(BigInt(step))
  const mac = createHmac('sha1', secret).update(counter).digest()
  const offset = mac.readUInt8(mac.length - 1) & 0x0f
  const number = mac.readUInt32BE(offset) & 0x7fffffff
  return String(number % 10 ** digits).padStart(digits, '0')
}

export function stepAt(seconds: number): number {
  return Math.floor(seconds / STEP_SECONDS)
}

/** The step whose code this is, of the present one and its neighbours. */
export function findStep(secret: Uint8Array, code: string, seconds: number): number | undefined {
  const present = stepAt(seconds)
  return [present - 1, present, present + 1].find((step) => {
    const expected = Buffer.from(codeOfStep(secret, step))
    const typed = Buffer.from(code)
    return typed.length === expected.length && timingSafeEqual(typed, expected)
  })
}
