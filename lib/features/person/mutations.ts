import { randomUUID } from 'node:crypto'
import { authenticatorAddress } from '@/lib/domain/person/second-factor'
import type { ChangePassword, ProvePassword, ResetPassword, SignUp } from '@/lib/features/person/schema'
import { getUnconfirmedAddress, takeConfirmation, writeConfirmation } from '@/lib/platform/confirmation'
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
import {
  confirmSecondFactor,
  endSecondFactor,
  getSecondFactor,
  renewRecoveryCodes,
  startSecondFactor,
} from '@/lib/platform/second-factor'
import type { SignedIn } from '@/lib/platform/session'
import { countAttempt, forgetAttempts } from '@/lib/platform/throttle'

/**
 * Opens an account. An address that has one already is answered alike, in words and in time, and keeps its password:
 * who tries addresses learns nothing here. Gives the person where one was added.
 */
export async function signUp({
  name,
  email,
  password,
}: SignUp): Promise<{ id: string; email: string } | undefined> {
  const passwordHash = await hashPassword(password)
  try {
    return { id: await createPerson({ name, email, passwordHash }), email }
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
 * Mails the link that confirms the address to a person who has not done so, five times an hour at most. Run after the
 * answer was given, like the link for a new password.
 */
export async function startConfirmation({
  id: personId,
  email,
}: {
  id: string
  email: string
}): Promise<void> {
  if (!hasMailServer() || !(await getUnconfirmedAddress(personId))) return
  await countAttempt('confirm-account', personId)
  const text = writeConfirmation({ personId, email })
  await sendMail({ id: randomUUID(), to: email, subject: 'Oothecary: is this your address?', text })
}

/** @throws AppError expired for a link that is used, too old or unknown, all with the same words */
export async function acceptConfirmation(token: string): Promise<void> {
  if ((await takeConfirmation(token)) === 'spent')
    throw new AppError(
      'expired',
      'This link cannot be used any more. Ask for a new one under “Your account”.',
    )
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
  const before = await requirePassword(person, current)
  const done = await replacePassword(person, { before, after: await hashPassword(password) })
  if (done === 'changed-meanwhile')
    throw new AppError('stale', 'Your password was changed on another device meanwhile.')
}

/** The stored hash of the password that was just proved. */
async function requirePassword({ personId }: SignedIn, current: string): Promise<string> {
  await countAttempt('password-account', personId)
  const stored = await getPasswordHash(personId)
  if (!stored || !(await verifyPassword(stored, current)))
    throw refuseField('current', 'This is not the password you have now.')
  await forgetAttempts('password-account', personId)
  return stored
}

/** A secret for an authenticator app, as text and as what its picture says. It holds once a code has confirmed it. */
export async function startOwnSecondFactor(person: SignedIn): Promise<{ secret: string; address: string }> {
  const secret = await startSecondFactor(person.personId)
  if (!secret) throw new AppError('already-recorded', 'A second factor is set up already.')
  return { secret, address: authenticatorAddress(person.email, secret) }
}

/** @throws AppError invalid where the code is not the secret's; held back after eight tries */
export async function acceptSecondFactor({ personId }: SignedIn, code: string): Promise<string[]> {
  await countAttempt('password-account', personId)
  const codes = await confirmSecondFactor(personId, code)
  if (!codes)
    throw refuseField('code', 'This is not the code of now. Check the clock of the device that shows it.')
  await forgetAttempts('password-account', personId)
  return codes
}

/** New recovery codes in place of the old ones, for who proves the password. */
export async function createRecoveryCodes(person: SignedIn, { current }: ProvePassword): Promise<string[]> {
  await requirePassword(person, current)
  if (!(await getSecondFactor(person.personId)).isOn)
    throw new AppError('not-found', 'There is no second factor to have codes for.')
  return renewRecoveryCodes(person.personId)
}

/** Takes the second factor off again, for who proves the password. */
export async function endOwnSecondFactor(person: SignedIn, { current }: ProvePassword): Promise<void> {
  await requirePassword(person, current)
  await endSecondFactor(person.personId)
}
