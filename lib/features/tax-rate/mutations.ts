import type { ArchiveTaxRate, TaxRateInput } from '@/lib/features/tax-rate/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** A rate of tax from now on; a kind of thing is proposed one rate, the newest that names it. */
export async function createTaxRate(
  tx: Tx,
  workspaceId: WorkspaceId,
  { name, percent, appliesTo }: TaxRateInput,
): Promise<{ id: string }> {
  const others = await tx.taxRate.findMany({ where: { workspaceId, archivedAt: null } })
  for (const { id, appliesTo: theirs } of others) {
    const left = theirs.filter((kind) => !appliesTo.includes(kind))
    if (left.length === theirs.length) continue
    await tx.taxRate.updateMany({
      where: { workspaceId, id },
      data: { appliesTo: left, version: { increment: 1 } },
    })
  }
  return tx.taxRate.create({
    data: { workspaceId, name, basisPoints: Math.round(percent * 100), appliesTo },
    select: { id: true },
  })
}

/** Out of use; receipts keep the rate they were written with. @throws AppError stale, not-found */
export async function archiveTaxRate(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, version }: ArchiveTaxRate,
): Promise<void> {
  const archived = await tx.taxRate.updateMany({
    where: { workspaceId, id, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (archived.count === 1) return
  const known = await tx.taxRate.findUnique({ where: { workspaceId_id: { workspaceId, id } } })
  throw known
    ? new AppError('stale', 'Someone else changed this rate meanwhile.')
    : refuseUnknown('rate of tax')
}
