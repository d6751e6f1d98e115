import type { SaleLineKind } from '@/lib/features/stock-line/schema'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type TaxRateRow = {
  id: string
  name: string
  basisPoints: number
  appliesTo: SaleLineKind[]
  version: number
}

/** The rates in use, highest first. */
export function listTaxRates(tx: Tx, workspaceId: WorkspaceId): Promise<TaxRateRow[]> {
  return tx.taxRate.findMany({
    where: { workspaceId, archivedAt: null },
    select: { id: true, name: true, basisPoints: true, appliesTo: true, version: true },
    orderBy: [{ basisPoints: 'desc' }, { name: 'asc' }],
  })
}
