import { signIn } from 'next-auth/react'
import { CODE_WANTED, CODE_WRONG } from '@/lib/domain/person/second-factor'

/** `wantsCode` where the password was right and a code of the second factor is still needed. */
export type Trouble = { what: string; why: string; wantsCode?: boolean }

export type Typed = { email: string; password: string; code: string }

/** What stands in the fields of a form that signs somebody in. */
export function readTyped(form: HTMLFormElement): Typed {
  const fields = new FormData(form)
  const read = (name: string) => String(fields.get(name) ?? '')
  return { email: read('email'), password: read('password'), code: read('code') }
}

const WRONG: Trouble = { what: 'Mail address and password do not match.', why: 'Check both and try again.' }

const WANTED: Trouble = {
  what: 'Now the code of your second factor.',
  why: 'The one your authenticator app shows, or one of your recovery codes.',
  wantsCode: true,
}
const NOT_THIS_CODE: Trouble = {
  what: 'This code does not hold.',
  why: 'Each works once, and those of the app for half a minute. Wait for the next one and try again.',
  wantsCode: true,
}

/** Signs in with a password, and a code where there is a second factor. Says what to do in every case that was not simply right. */
export async function tryToSignIn(typed: Typed): Promise<Trouble | undefined> {
  try {
    const answer = await signIn('credentials', { redirect: false, ...typed })
    if (answer?.ok && !answer.error) return undefined
    return readTrouble(answer?.error)
  } catch {
    return readTrouble(undefined)
  }
}

/** What the sign-in route says of itself: its own word for a wrong password, else a sentence of ours. */
export function readTrouble(error: string | null | undefined): Trouble {
  if (error === 'CredentialsSignin') return WRONG
  if (error === CODE_WANTED) return WANTED
  if (error === CODE_WRONG) return NOT_THIS_CODE
  const [what, why] = error?.match(/^(Too many attempts\.) (.+)$/)?.slice(1) ?? []
  if (what && why) return { what, why }
  const reference = error?.match(/Reference ([0-9a-f-]+)/)?.[1]
  return {
    what: 'Signing in did not work just now.',
    why: `Check the connection, wait a minute and try again. What you entered is still there.${reference ? ` Reference ${reference}.` : ''}`,
  }
}
