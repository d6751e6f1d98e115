// A password is stored as its SCRAM verifier, computed here, so that it stands in no server log.
import { createHash, createHmac, pbkdf2Sync, randomBytes } from 'node:crypto'

const ITERATIONS = 4096

/** The form of RFC 5802 that PostgreSQL keeps: SCRAM-SHA-256$iterations:salt$storedKey:serverKey. */
export function scramVerifier(password, salt = randomBytes(16)) {
  const salted = pbkdf2Sync(password, salt, ITERATIONS, 32, 'sha256')
  const keyed = (text) => createHmac('sha256', salted).update(text).digest()
  const storedKey = createHash('sha256').update(keyed('Client Key')).digest('base64')
  const serverKey = keyed('Server Key').toString('base64')
  return `SCRAM-SHA-256$${ITERATIONS}:${salt.toString('base64')}$${storedKey}:${serverKey}`
}
