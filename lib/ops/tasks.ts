import type { TaskList } from 'graphile-worker'
import { z } from 'zod'
import { recordFailedFit, updateGrowthFit } from '@/lib/features/growth-fit/mutations'
import { workspaceTask } from '@/lib/platform/jobs'

const ofSpecies = z.strictObject({ workspaceId: z.uuid(), speciesId: z.uuid() })

/** What the queue's process does besides sending mail, by the names under which it is asked for. */
export const TASKS: TaskList = {
  'refit-growth': workspaceTask({
    payload: ofSpecies,
    run: (tx, workspace, { speciesId }) => updateGrowthFit(tx, workspace, speciesId),
    recordFailure: (tx, workspace, { payload: { speciesId }, failure }) =>
      recordFailedFit(tx, workspace, { speciesId, failure }),
  }),
}
