// The jobs of the watch: a zone is looked at when a reading arrives, and by the clock when none does.
import { updateIncidents } from '@/lib/features/incident/mutations'
import { AppError } from '@/lib/platform/errors'
import { type FeatureJobs, readZoneJob, type ZoneJob } from '@/lib/platform/jobs'
import { log } from '@/lib/platform/log'
import { listDueLooks } from '@/lib/platform/watch-look'
import { inWorkspace, mintScope } from '@/lib/platform/workspace'

/** A minute's worth; what is left over is the longest waiting of the next one. */
const MOST_LOOKS = 500

export const WATCH_JOBS: FeatureJobs = {
  tasks: {
    'watch-look': (payload) => look(readZoneJob(payload)),
    'watch-due': lookAtAllDue,
  },
  everyMinute: ['watch-due'],
}

async function look({ workspaceId, zoneId }: ZoneJob): Promise<void> {
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  await inWorkspace(scope, (tx, workspace) => updateIncidents(tx, workspace, { zoneId, nowMs: Date.now() }))
}

/** Each zone in a transaction of its own: one that cannot be looked at keeps no other from being watched. */
async function lookAtAllDue(): Promise<void> {
  const failed: string[] = []
  for (const due of await listDueLooks(MOST_LOOKS)) {
    try {
      await look(due)
    } catch (error) {
      failed.push(due.zoneId)
      const said = error instanceof Error ? error.message : String(error)
      log.error({ where: 'watch', zone: due.zoneId, error: said }, 'a watched zone could not be looked at')
    }
  }
  if (failed.length > 0) throw new AppError('busy', `${failed.length} watched zones could not be looked at.`)
}
