import { randomUUID } from 'node:crypto'
import type { ChangePassword, ResetPassword, SignUp } from '@/lib/features/person/schema'
import { AppError, refuseField } from '@/lib/platform/errors'
import { hasMailServer, sendMail } from '@/lib/platform/mail'
import { hashPassword, verifyPassword } from '@/lib/platform/password'
import {
  createPasswordReset,
  lookUpPasswordReset,
  RESET_MINUTES,
  resetAddress,
  takePasswordReset,
} from '@/lib/platform/password-reset'
import { createPerson, getPasswordHash, getPersonForSignIn, replacePassword } from '@/lib/platform/person'
import type { SignedIn } from '@/lib/platform/session'
import { countAttempt, forgetAttempts } from '@/lib/platform/throttle'

/**
 * Opens an account. An address that has one already is answered alike, in words and in time, and keeps its password:
 * who tries addresses learns nothing here.
 */
export async function signUp({ name, email, password }: SignUp): Promise<void> {
  const passwordHash = await hashPassword(password)
  try {
    await createPerson({ name, email, passwordHash })
  } catch (error) {
    if (!(error instanceof AppError && error.code === 'name-taken')) throw error
  }
}

/**
 * Mails a way back in to an address that has an account, and nothing to any other. Run after the answer was given, so
 * that neither its words nor its time say which it was. A mail that does not get out is logged and asked for again.
 */
export async function startReset(email: string): Promise<void> {
  if (!hasMailServer()) return
  const person = await getPersonForSignIn(email)
  if (!person) return
  const link = resetAddress(await createPasswordReset(person.id))
  await sendMail({
    id: randomUUID(),
    to: person.email,
    subject: 'Oothecary: a new password',
    text: `Somebody, you we hope, forgot the password of this address in Oothecary.\n\nOpen this link within ${RESET_MINUTES} minutes and choose a new one. It works once. If you did not ask for it, do nothing: your password stays as it is.\n\n${link}\n`,
  })
}

/**
 * Sets the password that a link was opened for, and signs every device out.
 * @throws AppError expired for a link that is used, too old or unknown, all with the same words
 */
export async function acceptReset({ token, password }: ResetPassword): Promise<void> {
  // Looked at first, since a hash is dear and anyone may send made-up links.
  const isOpen = (await lookUpPasswordReset(token)) !== undefined
  if (!isOpen || (await takePasswordReset(token, await hashPassword(password))) === 'spent')
    throw new AppError('expired', 'This link cannot be used any more. Ask for a new one.')
}

/**
 * Changes one's own password and signs every other device out.
 * @throws AppError invalid where the present password is not right; stale where it was changed meanwhile
 */
export async function updatePassword(person: SignedIn, { current, password }: ChangePassword): Promise<void> {
  await countAttempt('password-account', person.personId)
  const before = await getPasswordHash(person.personId)
  if (!before || !(await verifyPassword(before, current)))
    throw refuseField('current', 'This is not the password you have now.')
  const done = await replacePassword(person, { before, after: await hashPassword(password) })
  if (done === 'changed-meanwhile')
    throw new AppError('stale', 'Your password was changed on another device meanwhile.')
  await forgetAttempts('password-account', person.personId)
}
