import type { TaskList } from 'graphile-worker'
import { z } from 'zod'
import { finishErasure } from '@/lib/features/buyer/mutations'
import { recordFailedFit, updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { endOrderAddress } from '@/lib/features/order/mutations'
import { updatePastWindows } from '@/lib/features/past-window/mutations'
import { endExpiredHold } from '@/lib/features/reservation/mutations'
import { workspaceTask } from '@/lib/platform/jobs'

const ofSpecies = z.strictObject({ workspaceId: z.uuid(), speciesId: z.uuid() })

const ofOrder = z.strictObject({ workspaceId: z.uuid(), orderId: z.uuid() })

const ofHold = z.strictObject({ workspaceId: z.uuid(), reservationId: z.uuid() })
const ofBuyer = z.strictObject({ workspaceId: z.uuid(), buyerId: z.uuid() })

/** What the queue's process does besides sending mail, by the names under which it is asked for. */
export const TASKS: TaskList = {
  'refit-growth': workspaceTask({
    payload: ofSpecies,
    run: (tx, workspace, { speciesId }) => updateGrowthFit(tx, workspace, speciesId),
    recordFailure: (tx, workspace, { payload: { speciesId }, failure }) =>
      recordFailedFit(tx, workspace, { speciesId, failure }),
  }),
  'end-hold': workspaceTask({
    payload: ofHold,
    run: (tx, workspace, { reservationId }) => endExpiredHold(tx, workspace, reservationId),
    // A hold past its day counts no more whether or not its row was ended.
    recordFailure: async () => {},
  }),
  'erase-buyer': workspaceTask({
    payload: ofBuyer,
    run: (tx, workspace, { buyerId }) => finishErasure(tx, workspace, buyerId),
    // The buyer's page says that it waits, and until when; the queue tries again by itself.
    recordFailure: async () => {},
  }),
  'forget-address': workspaceTask({
    payload: ofOrder,
    run: (tx, { workspaceId }, { orderId }) => endOrderAddress(tx, workspaceId, orderId),
    // The order's page shows that the address is still there; the queue tries again by itself.
    recordFailure: async () => {},
  }),
  'look-back': workspaceTask({
    payload: ofSpecies,
    run: (tx, workspace, { speciesId }) => updatePastWindows(tx, workspace, { speciesId }),
    // What was worked out before goes on being shown; the failure itself is logged, and it is tried again.
    recordFailure: async () => {},
  }),
}
