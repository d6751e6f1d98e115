'use server'

import { after } from 'next/server'
import { qrSvg } from '@/lib/documents/qr'
import {
  acceptConfirmation,
  acceptReset,
  acceptSecondFactor,
  createRecoveryCodes,
  endOwnSecondFactor,
  signUp,
  startConfirmation,
  startOwnSecondFactor,
  startReset,
  updatePassword,
} from '@/lib/features/person/mutations'
import {
  askForConfirmationSchema,
  askForResetSchema,
  changePasswordSchema,
  confirmAddressSchema,
  confirmSecondFactorSchema,
  endDeviceSchema,
  provePasswordSchema,
  resetPasswordSchema,
  signUpSchema,
  startSecondFactorSchema,
} from '@/lib/features/person/schema'
import { openAction } from '@/lib/platform/action'
import { readClientAddress } from '@/lib/platform/client-address'
import { readSignedIn } from '@/lib/platform/current-session'
import { refuseUnknown } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { endDevice } from '@/lib/platform/session'
import { countAttempt } from '@/lib/platform/throttle'

export const signUpAction = openAction(signUpSchema, async (input) => {
  await countAttempt('sign-up-address', await readClientAddress())
  const person = await signUp(input)
  if (person) after(() => startConfirmation(person).catch((error) => readFailure(error, 'confirmation')))
  return { status: 'done', value: null }
})

export const askForConfirmationAction = openAction(askForConfirmationSchema, async () => {
  const person = await readSignedIn()
  if (!person) return { status: 'signed-out' }
  await startConfirmation({ id: person.personId, email: person.email })
  return { status: 'done', value: null }
})

export const confirmAddressAction = openAction(confirmAddressSchema, async ({ token }) => {
  await countAttempt('confirm-address', await readClientAddress())
  await acceptConfirmation(token)
  return { status: 'done', value: null }
})

export const endDeviceAction = openAction(endDeviceSchema, async ({ id }) => {
  const person = await readSignedIn()
  if (!person) return { status: 'signed-out' }
  if (!(await endDevice(person.personId, id))) throw refuseUnknown('device')
  return { status: 'done', value: null }
})

export const askForResetAction = openAction(askForResetSchema, async ({ email }) => {
  await countAttempt('reset-address', await readClientAddress())
  await countAttempt('reset-account', email)
  after(() => startReset(email).catch((error) => readFailure(error, 'password-reset')))
  return { status: 'done', value: null }
})

export const resetPasswordAction = openAction(resetPasswordSchema, async (input) => {
  await countAttempt('reset-address', await readClientAddress())
  await acceptReset(input)
  return { status: 'done', value: null }
})

export const changePasswordAction = openAction(changePasswordSchema, async (input) => {
  const person = await readSignedIn()
  if (!person) return { status: 'signed-out' }
  await updatePassword(person, input)
  return { status: 'done', value: null }
})

export const startSecondFactorAction = openAction<
  typeof startSecondFactorSchema,
  { secret: string; picture: string }
>(startSecondFactorSchema, async () => {
  const person = await readSignedIn()
  if (!person) return { status: 'signed-out' }
  const { secret, address } = await startOwnSecondFactor(person)
  return { status: 'done', value: { secret, picture: qrSvg(address) } }
})

export const confirmSecondFactorAction = openAction<typeof confirmSecondFactorSchema, { codes: string[] }>(
  confirmSecondFactorSchema,
  async ({ code }) => {
    const person = await readSignedIn()
    if (!person) return { status: 'signed-out' }
    return { status: 'done', value: { codes: await acceptSecondFactor(person, code) } }
  },
)

export const renewRecoveryCodesAction = openAction<typeof provePasswordSchema, { codes: string[] }>(
  provePasswordSchema,
  async (input) => {
    const person = await readSignedIn()
    if (!person) return { status: 'signed-out' }
    return { status: 'done', value: { codes: await createRecoveryCodes(person, input) } }
  },
)

export const endSecondFactorAction = openAction(provePasswordSchema, async (input) => {
  const person = await readSignedIn()
  if (!person) return { status: 'signed-out' }
  await endOwnSecondFactor(person, input)
  return { status: 'done', value: null }
})
