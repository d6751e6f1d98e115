import { signIn } from 'next-auth/react'

export type Trouble = { what: string; why: string }

const WRONG: Trouble = { what: 'Mail address and password do not match.', why: 'Check both and try again.' }

/** Signs in with a password. Says what to do in every case that was not simply right. */
export async function tryToSignIn(email: string, password: string): Promise<Trouble | undefined> {
  try {
    const answer = await signIn('credentials', { redirect: false, email, password })
    if (answer?.ok && !answer.error) return undefined
    return readTrouble(answer?.error)
  } catch {
    return readTrouble(undefined)
  }
}

/** What the sign-in route says of itself: its own word for a wrong password, else a sentence of ours. */
export function readTrouble(error: string | null | undefined): Trouble {
  if (error === 'CredentialsSignin') return WRONG
  const [what, why] = error?.match(/^(Too many attempts\.) (.+)$/)?.slice(1) ?? []
  if (what && why) return { what, why }
  const reference = error?.match(/Reference ([0-9a-f-]+)/)?.[1]
  return {
    what: 'Signing in did not work just now.',
    why: `Check the connection, wait a minute and try again. What you entered is still there.${reference ? ` Reference ${reference}.` : ''}`,
  }
}
