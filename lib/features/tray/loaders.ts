import type { LabelRunPayload } from '@/lib/documents/label/render'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { isAllowed } from '@/lib/domain/role/permissions'
import { trayStages } from '@/lib/domain/tray/choose'
import { loadRunOrTrayLabels, requireTray, type TrayWithAnimals } from '@/lib/features/tray/data'
import { listZones } from '@/lib/features/zone/data'
import { loadPage, requireIdParam } from '@/lib/platform/page'

export type TrayPage = {
  today: PlainDate
  mayWrite: boolean
  tray: Omit<TrayWithAnimals, 'animals'>
  count: number
  scientificName: string
  stages: { moults: number; label: string; count: number }[]
  zones: string[]
  kinds: string[]
  lastFedOn: PlainDate | null
}

/** Cups that are kept as one: how many, in which stages, where. */
export function loadTrayPage(slug: string, id: string): Promise<TrayPage> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const { animals, ...tray } = await requireTray(tx, workspaceId, requireIdParam(id))
    const zones = await listZones(tx, workspaceId)
    const naming = instarNamingOf(workspace)
    const stays = animals.flatMap(({ stays: own }) => own.filter(({ until }) => until === null))
    const fed = animals.flatMap(({ lastFedOn }) => (lastFedOn ? [lastFedOn] : []))
    return {
      today,
      mayWrite: isAllowed(scope.role, 'individual:write'),
      tray,
      count: animals.length,
      scientificName: animals[0]?.scientificName ?? '',
      stages: trayStages(animals).map((stage) => ({ ...stage, label: instarLabel(stage.moults, naming) })),
      zones: zones.filter((zone) => stays.some(({ zoneId }) => zoneId === zone.id)).map(({ name }) => name),
      kinds: [...new Set(stays.map(({ kindName }) => kindName))],
      lastFedOn: fed.sort().at(-1) ?? null,
    }
  })
}

/** The one label of a tray; null where nobody stands on it any more. */
export function loadTrayLabel(
  slug: string,
  { id, address }: { id: string; address: string },
): Promise<LabelRunPayload | null> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace }) => {
    const tray = await requireTray(tx, workspace.workspaceId, requireIdParam(id))
    if (tray.animals.length === 0) return null
    const ids = tray.animals.map((animal) => animal.id)
    return loadRunOrTrayLabels(tx, workspace, { ids, address })
  })
}
