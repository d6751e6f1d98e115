// npm run workspace -- --name "The Glass Fern" --country NL --owner theo@example.org: makes a workspace for someone who
// has an account, or opens one with a password that is printed.

import { parseArgs } from 'node:util'
import { currencyOfCountry } from '@/lib/domain/place/country'
import { createWorkspace, type Founder } from '@/lib/features/workspace/mutations'
import { type CreateWorkspace, createWorkspaceSchema, suggestSlug } from '@/lib/features/workspace/schema'
import { Refusal } from '@/lib/ops/say.mjs'
import { disconnectAuth } from '@/lib/platform/auth-database'
import { readRefusal } from '@/lib/platform/database-error'
import { disconnect } from '@/lib/platform/db'
import { hashPassword } from '@/lib/platform/password'
import { createPerson, getPersonForSignIn } from '@/lib/platform/person'
import { createSecret } from '@/lib/platform/secret'
import { readAnswers } from './command-line'

const USAGE =
  'npm run workspace -- --name <name> --owner <mail address> --country <two letters> [--slug <address>] [--time-zone Europe/Berlin] [--currency EUR] [--language en]'

export async function main(args: string[]): Promise<void> {
  const { values } = parseArgs({
    args,
    options: {
      name: { type: 'string', default: '' },
      owner: { type: 'string', default: '' },
      country: { type: 'string', default: '' },
      slug: { type: 'string' },
      'time-zone': { type: 'string', default: 'UTC' },
      currency: { type: 'string' },
      language: { type: 'string', default: 'en' },
    },
  })
  const { owner, 'time-zone': timeZone, ...rest } = values
  const slug = rest.slug ?? suggestSlug(rest.name)
  const currency = rest.currency ?? currencyOfCountry(rest.country) ?? ''
  const wanted = readAnswers(createWorkspaceSchema, { ...rest, slug, currency, timeZone }, USAGE)
  if (!owner.includes('@')) throw new Refusal(`  --owner: a mail address\n${USAGE}`)
  try {
    await makeFor(owner, wanted)
    console.log(`The workspace stands at /w/${slug}.`)
  } finally {
    await disconnect()
    await disconnectAuth()
  }
}

async function makeFor(email: string, workspace: CreateWorkspace): Promise<void> {
  const founder = await findOrOpenAccount(email)
  try {
    await createWorkspace(workspace, founder)
  } catch (error) {
    if (readRefusal(error)?.code !== 'name-taken') throw error
    throw new Refusal(
      `A workspace stands or stood at /w/${workspace.slug} already. Choose another with --slug.`,
    )
  }
}

async function findOrOpenAccount(email: string): Promise<Founder> {
  const known = await getPersonForSignIn(email)
  if (known) return { personId: known.id, name: known.name, email: known.email }
  const password = createSecret().slice(0, 16)
  const name = email.slice(0, email.indexOf('@'))
  const personId = await createPerson({
    name,
    email,
    passwordHash: await hashPassword(password),
    isConfirmed: true,
  })
  console.log(`An account was opened for ${email} with the password ${password}`)
  return { personId, name, email }
}
