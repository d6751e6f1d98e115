import { formatCode } from '@/lib/domain/label/code'
import { isAllowed } from '@/lib/domain/role/permissions'
import { listContainerKinds } from '@/lib/features/container/data'
import { listHandOvers } from '@/lib/features/hand-over/data'
import { listZones } from '@/lib/features/zone/data'
import { handOverCode } from '@/lib/platform/hand-over-link'
import { loadPage } from '@/lib/platform/page'

/** What is offered to others, and where what comes from others is put. */
export function loadHandOversPage(slug: string) {
  return loadPage({ slug, permission: 'individual:write' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today } = workspace
    const offers = await listHandOvers(tx, workspaceId)
    const zones = await listZones(tx, workspaceId)
    const kinds = await listContainerKinds(tx, workspaceId)
    return {
      offers: offers.map(({ content, claim: _, animals, ...offer }) => ({
        ...offer,
        animals: animals.map(({ id, label, whereabouts, hasLeft }) => ({
          ...{ id, label: formatCode(label), hasLeft, isHere: whereabouts === 'single' },
        })),
        taken: content?.length ?? 0,
        // Only an open one can be taken; its code is shown to nobody else.
        code:
          offer.acceptedOn === null && offer.withdrawnOn === null
            ? handOverCode({ workspaceId, id: offer.id })
            : null,
      })),
      zones: zones.map(({ id: value, name: label }) => ({ value, label })),
      kinds: kinds
        .filter(({ single }) => single)
        .map(({ id: value, name, free }) => ({ value, label: `${name} (${free} free)` })),
      today,
      maySell: isAllowed(scope.role, 'sale:read'),
    }
  })
}
export type HandOversPage = Awaited<ReturnType<typeof loadHandOversPage>>
