// npm run -s reset-link -- --email mara@larch-lane.example: prints a link that sets a new password, for a service
// without a mail server. It works once and for ten minutes.

import { parseArgs } from 'node:util'
import { Refusal } from '@/lib/ops/say.mjs'
import { disconnectAuth } from '@/lib/platform/auth-database'
import { createPasswordReset, resetAddress } from '@/lib/platform/password-reset'
import { getPersonForSignIn } from '@/lib/platform/person'

const USAGE = 'npm run -s reset-link -- --email <mail address>'

export async function main(args: string[]): Promise<void> {
  const { values } = parseArgs({ args, options: { email: { type: 'string', default: '' } } })
  try {
    const person = await getPersonForSignIn(values.email)
    if (!person) throw new Refusal(`There is no account with the address “${values.email}”.\n${USAGE}`)
    console.log(resetAddress(await createPasswordReset(person.id)))
  } finally {
    await disconnectAuth()
  }
}
