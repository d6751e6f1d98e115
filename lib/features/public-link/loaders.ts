import { notFound } from 'next/navigation'
import { type SheetContent, sheetContent } from '@/lib/documents/care-sheet/content'
import { loadCareSheets } from '@/lib/features/care-sheet/data'
import { isLanguage } from '@/lib/messages/language'
import { AppError } from '@/lib/platform/errors'
import { lookUpPublicLink } from '@/lib/platform/public-link'
import { inWorkspace } from '@/lib/platform/workspace'

/**
 * What the code on a sheet leads to: the sheet's own content as it is today and nothing else of the workspace.
 * A link that is unknown, revoked or of an animal that died is the same page that is not there.
 */
export async function loadPublicPage(token: string, language: string | undefined): Promise<SheetContent> {
  const link = await lookUpPublicLink(token)
  if (!link) notFound()
  try {
    const choice = isLanguage(language) ? { language } : {}
    const [payload] = await inWorkspace(link.scope, (tx, workspace) =>
      loadCareSheets(tx, workspace, { ids: [link.individualId], choice }),
    )
    if (!payload) notFound()
    const content = sheetContent(payload)
    // The page is of today; only a hand-over is a day worth naming.
    return payload.handedOverOn ? content : { ...content, kicker: content.kicker.slice(0, 1) }
  } catch (error) {
    if (error instanceof AppError && error.code === 'not-found') notFound()
    throw error
  }
}
