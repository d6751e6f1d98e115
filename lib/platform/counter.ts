import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type CounterName =
  | 'individual'
  | 'clutch'
  | 'egg-case'
  | 'receipt'
  | 'return'
  | 'culture'
  | 'order'
  | 'tray'
  | 'show-box'
  /** of a device that sells from a show box */
  | `receipt-${string}`
export type CounterRange = { name: CounterName; count: number }

/**
 * Takes the next numbers of a workspace's series and returns the first of them. The counter's row stays locked until
 * the transaction ends, so a series has no gaps: an aborted sale gives its number back.
 */
export async function takeNumbers(tx: Tx, workspaceId: WorkspaceId, range: CounterRange): Promise<number> {
  const rows = await tx.$queryRaw<{ value: number }[]>`
    insert into counter (workspace_id, name, value) values (${workspaceId}::uuid, ${range.name}, ${range.count})
    on conflict (workspace_id, name) do update set value = counter.value + excluded.value
    returning value`
  const last = rows[0]?.value
  invariant(last !== undefined, 'a counter gives a number')
  return last - range.count + 1
}
