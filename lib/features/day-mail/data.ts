import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type DayMailRow = { hour: number; isOn: boolean; version: number }

/** What a person chose; version 0 where they never did. */
export async function loadDayMail(tx: Tx, workspaceId: WorkspaceId, personId: string): Promise<DayMailRow> {
  const row = await tx.dayMail.findUnique({ where: { workspaceId_personId: { workspaceId, personId } } })
  return row
    ? { hour: row.hour, isOn: row.endedAt === null, version: row.version }
    : { hour: 7, isOn: false, version: 0 }
}
