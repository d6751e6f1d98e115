import { z } from 'zod'
import { PAPER_KINDS, type PaperFacts } from '@/lib/domain/paper/paper'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const NUMBER_LETTERS = 80
const number = z.string().trim().max(NUMBER_LETTERS, `At most ${NUMBER_LETTERS} letters.`)
const version = z.number().int().positive()

/** A paper as it is copied down: what it is, the number and the day that stand on it. */
export const paperSchema = z.strictObject({
  kind: z.enum(PAPER_KINDS, 'Choose one.'),
  number: number.min(1, 'Copy its number. Where it has none, write “none”.'),
  on: plainDateSchema.meta({ description: 'the day that stands on it' }),
})
export type PaperInput = z.output<typeof paperSchema>
/** `at`: where it stands in what was sent, so that a mistake is said there. */
export type CopiedPaper = PaperInput & { at?: string }

export const papersSchema = z.array(paperSchema).max(5, 'At most five at once.').default([])

/** The three boxes of a form in which a paper may stand, or nothing at all. */
export const maybePaperSchema = paperSchema
  .partial()
  .superRefine((typed, context) => {
    if (Object.keys(typed).length === 0) return
    const need = (path: keyof PaperInput, message: string) => {
      if (!typed[path]) context.addIssue({ code: 'custom', path: [path], message })
    }
    need('kind', 'Choose one.')
    need('number', 'Copy its number. Where it has none, write “none”.')
    need('on', 'Enter the day that stands on it.')
  })
  .optional()
export type MaybePaper = z.output<typeof maybePaperSchema>

export function readMaybePaper(typed: MaybePaper): CopiedPaper[] {
  const { kind, number: copied, on } = typed ?? {}
  return kind && copied && on ? [{ kind, number: copied, on, at: 'paper' }] : []
}

/** Came with an animal or an egg case. */
export const originPaperSchema = paperSchema.extend({
  subject: z.enum(['individual', 'egg_case']),
  id: z.uuid(),
})
/** Went with a receipt, or with one of the things on it. */
export const salePaperSchema = paperSchema.extend({
  sale: z.uuid(),
  line: z.coerce.number().int().min(1).optional(),
})
export const archivePaperSchema = z.strictObject({ paper: z.uuid(), version })
export type ArchivePaper = z.output<typeof archivePaperSchema>

/** What a paper belongs to. */
export type PaperSubject =
  | { kind: 'individual'; id: string }
  | { kind: 'egg_case'; id: string }
  | { kind: 'sale'; id: string; line?: number }

export type PaperRow = PaperFacts & { id: string; version: number; label: string }
