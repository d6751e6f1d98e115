import { hash, verify } from '@node-rs/argon2'

// argon2id, 64 MiB, three passes. Each takes a whole core and 64 MiB, so at most two run at once.
const SETTINGS = { algorithm: 2, /* argon2id */ memoryCost: 65_536, timeCost: 3, parallelism: 1 }
const waiting: (() => void)[] = []
let running = 0

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running >= 2) await new Promise<void>((resolve) => waiting.push(resolve))
  running++
  try {
    return await work()
  } finally {
    running--
    waiting.shift()?.()
  }
}

export function hashPassword(password: string): Promise<string> {
  return inTurn(() => hash(password, SETTINGS))
}

let decoy: Promise<string> | undefined

/** Takes as long for a person who does not exist, so that time says nothing about who has an account. */
export async function verifyPassword(stored: string | undefined, password: string): Promise<boolean> {
  decoy ??= hashPassword('nobody has this password')
  const against = stored ?? (await decoy)
  const matches = await inTurn(() => verify(against, password))
  return stored !== undefined && matches
}

/** Whether a stored hash was made with weaker settings than today's and should be made anew at sign-in. */
export function isOutdatedHash(stored: string): boolean {
  return !stored.startsWith('$argon2id$v=19$m=65536,t=3,p=1$')
}
