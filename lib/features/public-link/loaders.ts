import { notFound } from 'next/navigation'
import { type SheetContent, sheetContent } from '@/lib/documents/care-sheet/content'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import { type SheetToday, sheetToday } from '@/lib/documents/care-sheet/today'
import { sheetWeeksIcs } from '@/lib/documents/care-sheet/weeks-ics'
import { type ForSaleContent, forSaleContent } from '@/lib/documents/for-sale/content'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { loadCareSheets, loadLotSheet } from '@/lib/features/care-sheet/data'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import { loadEggCaseSheet } from '@/lib/features/egg-case-sheet/data'
import { loadPublicPhoto } from '@/lib/features/photo/data'
import { loadForSale } from '@/lib/features/price-list/data'
import { isLanguage } from '@/lib/messages/language'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { lookUpPublicLink, type PublicSubject } from '@/lib/platform/public-link'
import { inWorkspace, type Workspace } from '@/lib/platform/workspace'

export type PublicPage = { sheet: SheetContent; today: SheetToday; hasPhoto: boolean }

/**
 * What the code on a sheet leads to: the sheet's own content as it is today and nothing else of the workspace.
 * A link that is unknown, revoked or of an animal that died is the same page that is not there.
 */
export async function loadPublicPage(token: string, language: string | undefined): Promise<PublicPage> {
  const payload = await readPublicSheet(token, language)
  const sheet = sheetContent(payload, { isWhole: true })
  return {
    // The page is of today; only a hand-over is a day worth naming.
    sheet: payload.handedOverOn ? sheet : { ...sheet, kicker: sheet.kicker.slice(0, 1) },
    today: sheetToday(payload),
    hasPhoto: Boolean(payload.animal.photo),
  }
}

/** The windows and feeding days of the page as a calendar file. */
export async function loadPublicCalendar(token: string, language: string | undefined): Promise<string> {
  return sheetWeeksIcs(await readPublicSheet(token, language))
}

/** The photo that was chosen for the sheet. */
export async function loadPublicPicture(token: string): Promise<Uint8Array> {
  const bytes = await readPublic(token, async (tx, { workspaceId }, subject) =>
    subject.kind === 'individual' ? loadPublicPhoto(tx, workspaceId, subject.id) : null,
  )
  return bytes ?? notFound()
}

/** What is for sale today, if the workspace wants that to be read. */
export function loadPublicForSale(token: string, language: string | undefined): Promise<ForSaleContent> {
  return readPublic(token, async (tx, workspace, subject) => {
    if (subject.kind !== 'for-sale') notFound()
    const { name, contact, currency, today } = workspace
    return forSaleContent(
      {
        ...{ seller: { name, contact }, currency, today, saysCounts: subject.saysCounts },
        naming: instarNamingOf(workspace),
        rows: await loadForSale(tx, workspace),
      },
      [language, workspace.language].find(isLanguage) ?? 'en',
    )
  })
}

function readPublicSheet(token: string, language: string | undefined): Promise<CareSheetPayload> {
  const choice = isLanguage(language) ? { language } : {}
  return readPublic(token, (tx, workspace, subject) => loadSubject(tx, workspace, { subject, choice }))
}

/** The one thing that a token is about, read in its own workspace by nobody in particular. */
async function readPublic<T>(
  token: string,
  read: (tx: Tx, workspace: Workspace, subject: PublicSubject) => Promise<T>,
): Promise<T> {
  const link = await lookUpPublicLink(token)
  if (!link) notFound()
  try {
    return await inWorkspace(link.scope, (tx, workspace) => read(tx, workspace, link.subject))
  } catch (error) {
    if (error instanceof AppError && error.code === 'not-found') notFound()
    throw error
  }
}

async function loadSubject(
  tx: Tx,
  workspace: Workspace,
  { subject, choice }: { subject: PublicSubject; choice: SheetChoice },
): Promise<CareSheetPayload> {
  if (subject.kind === 'for-sale') notFound()
  const { kind, id } = subject
  if (kind === 'egg-case') return loadEggCaseSheet(tx, workspace, { id, choice })
  if (kind === 'lot') return loadLotSheet(tx, workspace, { lotId: id, choice })
  const [sheet] = await loadCareSheets(tx, workspace, { ids: [id], choice })
  return sheet ?? notFound()
}
