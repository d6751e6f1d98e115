import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'

/** What the register of an inspector asks for beside an animal or an egg case. */
export const PAPER_KINDS = ['permit', 'proof_of_origin', 'crossing', 'health', 'other'] as const
export type PaperKind = (typeof PAPER_KINDS)[number]

/** `number` is empty once the person it may have led to was forgotten; `on` is the day that stands on it. */
export type PaperFacts = { kind: PaperKind; number: string; on: PlainDate }

export const PAPER_KIND_WORDS: Record<PaperKind, string> = {
  permit: 'Permit',
  proof_of_origin: 'Proof of origin',
  crossing: 'Import or export paper',
  health: 'Health certificate',
  other: 'Another paper',
}

/** "Proof of origin DE-12, 3 Mar 2026" */
export function sayPaper({ kind, number, on }: PaperFacts, today?: PlainDate): string {
  const named =
    number === '' ? `${PAPER_KIND_WORDS[kind]}, number erased` : `${PAPER_KIND_WORDS[kind]} ${number}`
  return `${named}, ${writeDay(on, today)}`
}

/** Several in one cell of a table. */
export function listPapersInWords(papers: readonly PaperFacts[]): string {
  return papers.map((paper) => sayPaper(paper)).join('; ')
}
