import { takePapers } from '@/lib/features/paper/data'
import type { ArchivePaper, PaperInput, PaperSubject } from '@/lib/features/paper/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * A paper that came with an animal or an egg case, or went with a receipt.
 * @throws AppError not-found; invalid for a day that has not come, or a line that needs none
 */
export async function createPaper(
  tx: Tx,
  actor: Actor,
  { subject, paper }: { subject: PaperSubject; paper: PaperInput },
): Promise<{ id: string }> {
  const { workspaceId } = actor.workspace
  const columns = await columnsOf(tx, workspaceId, subject)
  await takePapers(tx, actor, { of: [columns], papers: [{ ...paper, at: '' }] })
  return { id: subject.id }
}

async function columnsOf(tx: Tx, workspaceId: WorkspaceId, subject: PaperSubject) {
  const key = { workspaceId_id: { workspaceId, id: subject.id } }
  if (subject.kind === 'individual') {
    if (!(await tx.individual.findUnique({ where: key, select: { id: true } }))) throw refuseUnknown('animal')
    return { individualId: subject.id }
  }
  if (subject.kind === 'egg_case') {
    if (!(await tx.eggCase.findUnique({ where: key, select: { id: true } }))) throw refuseUnknown('egg case')
    return { eggCaseId: subject.id }
  }
  const sale = await tx.sale.findUnique({
    where: key,
    select: { lines: { select: { number: true, individualId: true, eggCaseId: true } } },
  })
  if (!sale) throw refuseUnknown('sale')
  if (subject.line === undefined) return { saleId: subject.id }
  const line = sale.lines.find(({ number }) => number === subject.line)
  const { individualId, eggCaseId } = line ?? {}
  if (individualId) return { saleId: subject.id, individualId }
  if (eggCaseId) return { saleId: subject.id, eggCaseId }
  throw refuseField('line', 'This line is no animal and no egg case. Record the paper for the whole receipt.')
}

/**
 * Takes a paper back that was copied down wrongly. `side`: what the caller may change, what came or what went.
 * @throws AppError not-found, stale
 */
export async function archivePaper(
  tx: Tx,
  { workspaceId }: Workspace,
  { paper, version, side }: ArchivePaper & { side: 'came' | 'went' },
): Promise<void> {
  const found = await tx.paper.findUnique({
    where: { workspaceId_id: { workspaceId, id: paper } },
    select: { saleId: true },
  })
  if (!found || (found.saleId === null) !== (side === 'came')) throw refuseUnknown('paper')
  const taken = await tx.paper.updateMany({
    where: { workspaceId, id: paper, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (taken.count === 0) throw new AppError('stale', 'This paper was changed or taken back meanwhile.')
}
