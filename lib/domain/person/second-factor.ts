/** What the sign-in answers where the password was right and a code is still wanted, or was not right. */
export const CODE_WANTED = 'CodeWanted'
export const CODE_WRONG = 'CodeWrong'

/** A code lasts half a minute; the one before and the one after are taken too, for clocks that differ. */
export const STEP_SECONDS = 30
export const CODE_DIGITS = 6
export const RECOVERY_CODES = 10

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'

/** Base32 of RFC 4648, without padding: how a secret is typed into an app that cannot scan. */
export function encodeBase32(bytes: Uint8Array): string {
  let text = ''
  let bits = 0
  let held = 0
  for (const byte of bytes) {
    held = (held << 8) | byte
    bits += 8
    while (bits >= 5) {
      bits -= 5
      text += ALPHABET[(held >>> bits) & 31]
    }
    held &= (1 << bits) - 1
  }
  return bits > 0 ? text + ALPHABET[(held << (5 - bits)) & 31] : text
}

/** As typed, with spaces, hyphens and small letters forgiven. */
export function readCode(typed: string): string {
  return typed.replace(/[\s-]+/g, '').toUpperCase()
}

export function isTimedCode(code: string): boolean {
  return code.length === CODE_DIGITS && /^\d+$/.test(code)
}

/** A recovery code in groups of four, as it is written down. */
export function writeRecoveryCode(code: string): string {
  return code.match(/.{1,4}/g)?.join('-') ?? code
}

/** The address that an authenticator app reads from the picture. */
export function authenticatorAddress(account: string, secret: string): string {
  const label = `Oothecary:${encodeURIComponent(account)}`
  return `otpauth://totp/${label}?secret=${secret}&issuer=Oothecary&algorithm=SHA1&digits=${CODE_DIGITS}&period=${STEP_SECONDS}`
}
