import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Paper } from '@/lib/domain/care-sheet/paper'
import { formatCode } from '@/lib/domain/label/code'
import type { CareSheetAnswer } from '@/lib/features/care-sheet/schema'
import type { IndividualRow } from '@/lib/features/individual/data'
import type { PublicLinkRow } from '@/lib/features/public-link/data'
import { loadProfiles } from '@/lib/features/species/data'
import type { Language } from '@/lib/messages/language'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

/** What was printed before of one animal, egg case or lot: how often, when first, and the newest note for the buyer. */
export type PrintedBefore = {
  count: number
  firstOn: PlainDate
  firstVersion: number | null
  note: string
}

export type PrintedOf =
  | { kind: 'individual'; ids: readonly string[] }
  | { kind: 'egg-case'; ids: readonly string[] }
  | { kind: 'lot'; ids: readonly string[] }

/** Sheets printed so far, by what they are of. A lot's own sheets are not its animals' own. */
export async function loadPrintedBefore(
  tx: Tx,
  workspaceId: WorkspaceId,
  { kind, ids }: PrintedOf,
): Promise<Map<string, PrintedBefore>> {
  const subject = {
    individual: Prisma.sql`case when c.lot_id is null then c.individual_id end`,
    'egg-case': Prisma.sql`c.egg_case_id`,
    lot: Prisma.sql`c.lot_id`,
  }[kind]
  const rows = await tx.$queryRaw<(PrintedBefore & { id: string })[]>`
    select ${subject} as id, count(distinct c.created_at)::int as count, min(c.printed_on)::text as "firstOn",
      (array_agg(c.profile_number order by c.id))[1] as "firstVersion",
      (array_agg(c.note order by c.id desc))[1] as note
    from care_sheet c
    where c.workspace_id = ${workspaceId}::uuid and ${subject} = any(${[...ids]}::uuid[])
    group by 1`
  return new Map(rows.map(({ id, ...printed }) => [id, printed]))
}

/** What one sheet says of the printings before it. The first one is no reprint. */
export function reprintOf(printed: PrintedBefore | undefined): CareSheetPayload['reprint'] {
  if (!printed || printed.count < 2) return null
  return { firstOn: printed.firstOn, profileVersion: printed.firstVersion }
}

export type SheetRows = {
  animals: IndividualRow[]
  printed: { paper: Paper; language: Language; note: string }
  linkOf: (individualId: string) => PublicLinkRow | undefined
  lotId: string | null
  batchId: string | null
}

/** One row for each animal: what was printed of it, and from which version of its care profile. */
export async function openSheetRecords(
  tx: Tx,
  { scope, workspace }: Actor,
  { animals, printed, linkOf, lotId, batchId }: SheetRows,
): Promise<CareSheetAnswer[]> {
  const { workspaceId, today } = workspace
  const profiles = await loadProfiles(tx, workspaceId)
  const { paper, language, note } = printed
  const made = await tx.careSheet.createManyAndReturn({
    data: animals.map((animal) => {
      const link = linkOf(animal.id)
      invariant(link, 'every printed animal has a page')
      return {
        workspaceId,
        individualId: animal.id,
        lotId,
        batchId,
        speciesId: animal.speciesId,
        profileNumber: profiles.get(animal.speciesId)?.profileNumber ?? null,
        publicLinkId: link.id,
        language,
        paper,
        note,
        printedOn: fromPlainDate(today),
        printedBy: scope.personId,
      }
    }),
    select: { id: true, individualId: true, profileNumber: true },
  })
  return made.map(({ id, individualId, profileNumber }) => {
    const link = individualId && linkOf(individualId)
    invariant(link, 'every printed animal has a page')
    const choice = `paper=${paper}&language=${language}`
    const of = lotId ? `/sheet-lots/${lotId}` : `/individuals/${individualId}`
    return {
      id,
      individual: individualId,
      lot: lotId,
      paper,
      language,
      profileVersion: profileNumber,
      publicPage: link.address,
      pdf: `/api/v1${of}/care-sheet.pdf?${choice}`,
    }
  })
}

/** A sheet is for an animal that is here, or that somebody has just taken home. */
export function requirePrintable(animal: { label: string; whereabouts: string }): void {
  if (['single', 'sold', 'given_away'].includes(animal.whereabouts)) return
  throw new AppError(
    'already-gone',
    `${formatCode(animal.label)} is not here any more, so there is no sheet to print.`,
  )
}
