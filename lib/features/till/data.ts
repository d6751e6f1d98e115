import { listTaxRates, type TaxRateRow } from '@/lib/features/tax-rate/data'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type TillRow = {
  pricesIncludeTax: boolean
  retentionYears: number
  receiptWords: string
  certifiedTill: boolean
  /** 0 while nothing was set */
  version: number
}

const UNSET: TillRow = {
  pricesIncludeTax: true,
  retentionYears: 0,
  receiptWords: '',
  certifiedTill: false,
  version: 0,
}

/** How this workspace sells, with what holds until somebody says otherwise. */
export async function loadTill(tx: Tx, workspaceId: WorkspaceId): Promise<TillRow> {
  const row = await tx.till.findUnique({
    where: { workspaceId },
    select: {
      pricesIncludeTax: true,
      retentionYears: true,
      receiptWords: true,
      certifiedTill: true,
      version: true,
    },
  })
  return row ?? UNSET
}

/** What the counter prices with. */
export type SellingTerms = TillRow & { rates: TaxRateRow[] }

export async function loadSellingTerms(tx: Tx, workspaceId: WorkspaceId): Promise<SellingTerms> {
  const till = await loadTill(tx, workspaceId)
  return { ...till, rates: await listTaxRates(tx, workspaceId) }
}
