import { encode } from 'next-auth/jwt'
import { env } from '@/lib/platform/env'
import { createSession } from '@/lib/platform/session'
import type { Scope } from '@/lib/platform/workspace'

/** The cookie of a person who has signed in, as their browser sends it with each page. */
export async function makeSessionCookie({ personId }: Scope): Promise<string> {
  const secret = await createSession(String(personId), 'a test')
  return encode({ token: { secret }, secret: env().AUTH_SECRET })
}
