// npm run erase -- --workspace <address> --name <its name>: removes a deleted workspace for good.
import { parseArgs } from 'node:util'
import { Refusal, say } from '@/lib/ops/say.mjs'
import { lookUpDeleted } from '@/lib/platform/archived-workspace'
import { disconnectAuth } from '@/lib/platform/auth-database'
import { eraseWorkspace } from './backup/erase'

const USAGE = 'npm run erase -- --workspace <address> --name <its name>'

export async function main(args: string[]): Promise<void> {
  const text = { type: 'string', default: '' } as const
  const { values } = parseArgs({ args, options: { workspace: text, name: text } })
  if (!values.workspace || !values.name) throw new Refusal(USAGE)
  try {
    const found = await lookUpDeleted(values.workspace)
    if (!found)
      throw new Refusal(
        `No deleted workspace stands at /w/${values.workspace}. Its owner deletes it under “Workspace” first.`,
      )
    if (found.name !== values.name) throw new Refusal(`The workspace there is called “${found.name}”.`)
    const rows = await eraseWorkspace(process.env.DATABASE_URL ?? '', found.workspaceId)
    say(`Erased: ${rows} rows of ${found.name}. It can only come back from a file or a backup.`)
  } finally {
    await disconnectAuth()
  }
}
