// npm run -s token -- --workspace larch-lane-mantids --role keeper [--name "Till"] [--days 365]: prints the token alone.

import { parseArgs } from 'node:util'
import { createApiToken } from '@/lib/features/api-token/mutations'
import { createApiTokenSchema } from '@/lib/features/api-token/schema'
import { Refusal } from '@/lib/ops/say.mjs'
import { authPool, disconnectAuth } from '@/lib/platform/auth-database'
import { disconnect } from '@/lib/platform/db'
import { inWorkspace, mintScope, type Scope } from '@/lib/platform/workspace'
import { readAnswers } from './command-line'

const USAGE =
  'npm run -s token -- --workspace <address> --role owner|keeper|counter|viewer [--name <what for>] [--days 365]'

export async function main(args: string[]): Promise<void> {
  const { values } = parseArgs({
    args,
    options: {
      workspace: { type: 'string' },
      role: { type: 'string' },
      name: { type: 'string', default: 'made on the command line' },
      days: { type: 'string', default: '365' },
    },
  })
  const { workspace = '', ...rest } = values
  const wanted = readAnswers(createApiTokenSchema, rest, USAGE)
  try {
    const scope = await requireOwnerScope(workspace)
    const { token } = await inWorkspace(scope, (tx) => createApiToken(tx, scope, wanted))
    console.log(token)
  } finally {
    await disconnect()
    await disconnectAuth()
  }
}

/** A token acts for a person, so the longest-standing owner's name stands beside what is done with it. */
async function requireOwnerScope(slug: string): Promise<Scope> {
  const found = await authPool().query<{ workspaceId: string; personId: string }>(
    `select m.workspace_id as "workspaceId", m.person_id as "personId"
     from workspace_slug s
     join membership m on m.workspace_id = s.workspace_id and m.role = 'owner' and m.ended_at is null
     where s.slug = $1 order by m.created_at limit 1`,
    [slug],
  )
  const owner = found.rows[0]
  if (!owner) throw new Refusal(`There is no workspace at “${slug}”.\n${USAGE}`)
  return mintScope({ ...owner, role: 'owner' })
}
