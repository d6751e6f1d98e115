import type { NextAuthOptions } from 'next-auth'
import CredentialsProvider from 'next-auth/providers/credentials'
import { CODE_WANTED, CODE_WRONG } from '@/lib/domain/person/second-factor'
import { getClientAddress } from '@/lib/platform/client-address'
import { env, isSecure } from '@/lib/platform/env'
import { AppError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { getAddressOnSite } from '@/lib/platform/next-address'
import { hashPassword, isOutdatedHash, verifyPassword } from '@/lib/platform/password'
import { getPersonForSignIn, type PersonForSignIn, updatePasswordHash } from '@/lib/platform/person'
import { takeCode } from '@/lib/platform/second-factor'
import { endSession, openSession } from '@/lib/platform/session'
import { countAttempt, forgetAttempts } from '@/lib/platform/throttle'

/** A cookie bound to this very host behind https; the plain name on http, where that prefix is refused. */
export function sessionCookieName(): string {
  return isSecure() ? '__Host-oothecary-session' : 'oothecary-session'
}

function cookie(name: string) {
  const prefixed = isSecure() ? `__Host-oothecary-${name}` : `oothecary-${name}`
  return {
    name: prefixed,
    options: { httpOnly: true, sameSite: 'lax' as const, path: '/', secure: isSecure() },
  }
}

type Typed = { email: string; password: string; code: string }

async function authorize({ email, password, code }: Typed, headers: Record<string, string | undefined>) {
  await countAttempt('sign-in-address', getClientAddress(headers['x-forwarded-for']))
  await countAttempt('sign-in-account', email)
  const person = await getPersonForSignIn(email)
  if (!(await verifyPassword(person?.passwordHash, password)) || !person) return null
  if (person.hasSecondFactor) await requireCode(person.id, code)
  await forgetAttempts('sign-in-account', email)
  const passwordHash = await renewHash(person, password)
  const device = headers['user-agent'] ?? 'unknown device'
  const secret = await openSession({ personId: person.id, device, passwordHash })
  if (!secret) return null
  return { id: person.id, name: person.name, email: person.email, secret }
}

/** The password was right by now, so this says nothing to whoever does not have it. A wrong code counts as an attempt. */
async function requireCode(personId: string, code: string): Promise<void> {
  if (code.trim() === '') throw new AppError('unauthorised', CODE_WANTED)
  if (!(await takeCode(personId, code))) throw new AppError('unauthorised', CODE_WRONG)
}

/** The hash with today's settings; only in place of the very one that was proved. */
async function renewHash({ id, passwordHash }: PersonForSignIn, password: string): Promise<string> {
  if (!isOutdatedHash(passwordHash)) return passwordHash
  const after = await hashPassword(password)
  await updatePasswordHash(id, { before: passwordHash, after })
  return after
}

/** next-auth hands the words of whatever is thrown to the browser: so only a refusal's own words, or a reference. */
async function authorizeSafely(
  { email, password, code }: { email: string; password: string; code?: string },
  headers: Record<string, string | undefined>,
) {
  try {
    return await authorize({ email, password, code: code ?? '' }, headers)
  } catch (error) {
    const failure = readFailure(error, 'sign-in')
    if ('refusal' in failure) throw new Error(failure.refusal.message)
    throw new Error(`Signing in did not work just now. Reference ${failure.reference}.`)
  }
}

/**
 * next-auth with credentials and a JWT that carries a random session secret, which our own table is asked about on
 * every request: so signing out, a change of role or a removal acts on the very next one.
 */
export function authOptions(): NextAuthOptions {
  return {
    secret: env().AUTH_SECRET,
    session: { strategy: 'jwt', maxAge: 30 * 24 * 60 * 60 },
    pages: { signIn: '/sign-in', signOut: '/', error: '/sign-in' },
    useSecureCookies: isSecure(),
    cookies: {
      sessionToken: cookie('session'),
      csrfToken: cookie('csrf'),
      callbackUrl: cookie('callback'),
    },
    providers: [
      CredentialsProvider({
        name: 'Oothecary',
        credentials: { email: { type: 'email' }, password: { type: 'password' }, code: { type: 'text' } },
        authorize: (credentials, request) =>
          credentials ? authorizeSafely(credentials, request.headers ?? {}) : null,
      }),
    ],
    callbacks: {
      jwt({ token, user }) {
        if (user && 'secret' in user) token.secret = user.secret
        return token
      },
      session: ({ session }) => ({ expires: session.expires }),
      // Whole addresses, since next-auth's own script in the browser reads the answer as one.
      redirect: ({ url, baseUrl }) =>
        `${baseUrl}${getAddressOnSite(url.startsWith(`${baseUrl}/`) ? url.slice(baseUrl.length) : url)}`,
    },
    events: {
      async signOut({ token }) {
        if (typeof token?.secret === 'string') await endSession(token.secret)
      },
    },
  }
}
