import type { PaperFacts } from '@/lib/domain/paper/paper'
import type { CopiedPaper, PaperRow, PaperSubject } from '@/lib/features/paper/schema'
import type { Tx } from '@/lib/platform/db'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

type Columns = { individualId?: string; eggCaseId?: string; saleId?: string }

/** The papers of one animal, egg case or receipt that were not taken back, in the order in which they came. */
export function listPapers(tx: Tx, workspaceId: WorkspaceId, subject: PaperSubject): Promise<PaperRow[]> {
  const { id } = subject
  const own = {
    individual: Prisma.sql`p.individual_id = ${id}::uuid and p.sale_id is null`,
    egg_case: Prisma.sql`p.egg_case_id = ${id}::uuid and p.sale_id is null`,
    sale: Prisma.sql`p.sale_id = ${id}::uuid`,
  }
  return tx.$queryRaw<PaperRow[]>`
    select p.id, p.kind::text as kind, p.number, p.dated_on::text as "on", p.version,
      case when p.sale_id is null then '' else coalesce(i.label, e.label, '') end as label
    from paper p
    left join individual i on i.workspace_id = p.workspace_id and i.id = p.individual_id
    left join egg_case e on e.workspace_id = p.workspace_id and e.id = p.egg_case_id
    where p.workspace_id = ${workspaceId}::uuid and p.archived_at is null and ${own[subject.kind]}
    order by p.id`
}

/**
 * Writes papers down beside what they belong to.
 * @throws AppError invalid for a day that has not come
 */
export async function takePapers(
  tx: Tx,
  { scope, workspace }: Actor,
  { of, papers }: { of: readonly Columns[]; papers: readonly CopiedPaper[] },
): Promise<void> {
  const { workspaceId, today } = workspace
  papers.forEach(({ on, at }, index) => {
    refuseFuture(at === '' ? 'on' : `${at ?? `papers.${index}`}.on`, on, today)
  })
  if (papers.length === 0) return
  await tx.paper.createMany({
    data: of.flatMap((columns) =>
      papers.map(({ kind, number, on }) => ({
        ...{ workspaceId, kind, number, ...columns },
        datedOn: fromPlainDate(on),
        recordedBy: scope.personId,
      })),
    ),
  })
}

/** Once a person is forgotten no number of theirs stands anywhere; that there was a paper, and of which day, does. */
export async function endPaperNumbers(tx: Tx, workspaceId: WorkspaceId, buyerId: string): Promise<void> {
  await tx.paper.updateMany({
    where: { workspaceId, sale: { workspaceId, buyerId }, NOT: { number: '' } },
    data: { number: '', version: { increment: 1 } },
  })
}

/** The papers that went with what a buyer bought, with the sale and the label they belong to. */
export function listPapersOfBuyer(
  tx: Tx,
  workspaceId: WorkspaceId,
  buyerId: string,
): Promise<(Omit<PaperRow, 'version'> & { saleId: string })[]> {
  return tx.$queryRaw`
    select p.id, p.kind::text as kind, p.number, p.dated_on::text as "on", p.sale_id as "saleId",
      coalesce(i.label, e.label, '') as label
    from paper p
    join sale s on s.workspace_id = p.workspace_id and s.id = p.sale_id
    left join individual i on i.workspace_id = p.workspace_id and i.id = p.individual_id
    left join egg_case e on e.workspace_id = p.workspace_id and e.id = p.egg_case_id
    where p.workspace_id = ${workspaceId}::uuid and s.buyer_id = ${buyerId}::uuid and p.archived_at is null
    order by p.id`
}

/** The papers that came with each of these animals, by animal. */
export async function listPapersOfAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  ids: readonly string[],
): Promise<Map<string, PaperFacts[]>> {
  const rows = await tx.$queryRaw<(PaperFacts & { individualId: string })[]>`
    select p.individual_id as "individualId", p.kind::text as kind, p.number, p.dated_on::text as "on"
    from paper p
    where p.workspace_id = ${workspaceId}::uuid and p.individual_id = any(${[...ids]}::uuid[]) and p.sale_id is null
      and p.archived_at is null
    order by p.id`
  return new Map(ids.map((id) => [id, rows.filter(({ individualId }) => individualId === id)]))
}
