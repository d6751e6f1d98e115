'use server'

import { signUp } from '@/lib/features/person/mutations'
import { endDeviceSchema, signUpSchema } from '@/lib/features/person/schema'
import { openAction } from '@/lib/platform/action'
import { readClientAddress } from '@/lib/platform/client-address'
import { readSignedIn } from '@/lib/platform/current-session'
import { refuseUnknown } from '@/lib/platform/errors'
import { endDevice } from '@/lib/platform/session'
import { countAttempt } from '@/lib/platform/throttle'

export const signUpAction = openAction(signUpSchema, async (input) => {
  await countAttempt('sign-up-address', await readClientAddress())
  await signUp(input)
  return { status: 'done', value: null }
})

export const endDeviceAction = openAction(endDeviceSchema, async ({ id }) => {
  const person = await readSignedIn()
  if (!person) return { status: 'signed-out' }
  if (!(await endDevice(person.personId, id))) throw refuseUnknown('device')
  return { status: 'done', value: null }
})
