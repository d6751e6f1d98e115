import { cookies } from 'next/headers'
import { decode } from 'next-auth/jwt'
import { cache } from 'react'
import { sessionCookieName } from '@/lib/platform/auth'
import { env } from '@/lib/platform/env'
import { getSession, lookUpMembership, type MembershipLookUp, type SignedIn } from '@/lib/platform/session'

/** The session secret inside the request's cookie, if the cookie is ours. */
export async function readSessionSecret(): Promise<string | undefined> {
  const token = (await cookies()).get(sessionCookieName())?.value
  if (!token) return undefined
  const content = await decode({ token, secret: env().AUTH_SECRET }).catch(() => null) // a forged or old cookie is no cookie
  return typeof content?.secret === 'string' ? content.secret : undefined
}

/** Who is signed in on this request. Asked once per request, however many parts of the page ask. */
export const readSignedIn = cache(async (): Promise<SignedIn | undefined> => {
  const secret = await readSessionSecret()
  return secret ? getSession(secret) : undefined
})

export const readMembership = cache(async (slug: string): Promise<MembershipLookUp | undefined> => {
  const secret = await readSessionSecret()
  return secret ? lookUpMembership(secret, slug) : undefined
})
