import { loadSellingTerms } from '@/lib/features/till/data'
import { loadPage } from '@/lib/platform/page'

/** How this workspace sells, for who may change it. */
export function loadTillPage(slug: string) {
  return loadPage({ slug, permission: 'till:write' }, async ({ tx, workspace }) => ({
    terms: await loadSellingTerms(tx, workspace.workspaceId),
    currency: workspace.currency,
  }))
}
export type TillPage = Awaited<ReturnType<typeof loadTillPage>>
