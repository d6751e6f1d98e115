import { OWNER, withConnection } from '@/lib/ops/database/connection.mjs'
import { listWorkspaceTables } from '@/lib/platform/workspace-tables'
import { quote } from './tables'

/**
 * Removes every row of one workspace and its queued jobs for good, in one transaction, as the owner of the tables inside that workspace:
 * row-level security holds for it as well, so a neighbour's rows are not even seen. The audit trail would be written by
 * what removes it, so its triggers are off meanwhile.
 * @param adminUrl of the database
 * @returns how many rows were removed
 */
export async function eraseWorkspace(adminUrl: string, workspaceId: string): Promise<number> {
  return withConnection(adminUrl, async (client) => {
    await client.query(`begin; set local role ${OWNER}; set local lock_timeout = '10s'`)
    await client.query(`select set_config('app.workspace_id', $1, true)`, [workspaceId])
    const tables = (await listWorkspaceTables(client)).reverse()
    let rows = 0
    for (const { name } of tables) {
      const table = `public.${quote(name)}`
      await client.query(`alter table ${table} disable trigger user`)
      const removed = await client.query(`delete from ${table} where workspace_id = $1`, [workspaceId])
      await client.query(`alter table ${table} enable trigger user`)
      rows += removed.rowCount ?? 0
    }
    // The owner of the tables has the queue's rights as well. What is being worked at ends on rows that are not there.
    await client.query(`delete from graphile_worker._private_jobs where payload ->> 'workspaceId' = $1`, [
      workspaceId,
    ])
    await client.query('commit')
    return rows
  })
}
