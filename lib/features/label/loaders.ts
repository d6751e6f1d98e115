import { notFound } from 'next/navigation'
import { type CodeKind, parseCode } from '@/lib/domain/label/code'
import { getLabelledId } from '@/lib/features/label/data'
import { loadPage } from '@/lib/platform/page'

const PLURALS: Record<CodeKind, string> = {
  individual: 'individuals',
  clutch: 'clutches',
  'egg-case': 'egg-cases',
  tray: 'trays',
}

/** Where a code from a label leads: its animal, clutch or egg case. */
export function loadLabelAddress(slug: string, typed: string): Promise<string> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace, scope }) => {
    const parsed = parseCode(decodeURIComponent(typed))
    if (parsed.status !== 'ok') notFound()
    const id = await getLabelledId(tx, workspace.workspaceId, parsed)
    if (!id) notFound()
    return `/w/${scope.slug}/${PLURALS[parsed.kind]}/${id}`
  })
}
