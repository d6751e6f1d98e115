import { addDays } from '@/lib/domain/calendar/date'
import type { RecordBenchDay, UpdateBenchHours } from '@/lib/features/separation-plan/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** The hours of a usual week. @throws AppError stale with the present ones when someone else saved first */
export async function updateBenchHours(
  tx: Tx,
  workspaceId: WorkspaceId,
  hours: UpdateBenchHours,
): Promise<{ version: number }> {
  const { version, minutesByWeekday } = hours
  if (version === 0) {
    const made = await tx.benchHours.createMany({
      data: [{ workspaceId, minutesByWeekday }],
      skipDuplicates: true,
    })
    if (made.count === 1) return { version: 1 }
  }
  const changed = await tx.benchHours.updateMany({
    where: { workspaceId, version },
    data: { minutesByWeekday, version: { increment: 1 } },
  })
  if (changed.count === 1) return { version: version + 1 }
  const present = await tx.benchHours.findUniqueOrThrow({
    where: { workspaceId },
    select: { minutesByWeekday: true, version: true },
  })
  throw new AppError('stale', 'Someone else changed the hours meanwhile.', { present })
}

const AHEAD_DAYS = 730

/** One day unlike its weekday; without minutes it is as usual again. */
export async function recordBenchDay(tx: Tx, workspace: Workspace, day: RecordBenchDay): Promise<void> {
  const { workspaceId, today } = workspace
  if (day.on < today) throw refuseField('on', 'This day has passed.')
  if (day.on > addDays(today, AHEAD_DAYS)) throw refuseField('on', 'is more than two years ahead')
  const on = fromPlainDate(day.on)
  const { note, minutes = null } = day
  await tx.benchDay.upsert({
    where: { workspaceId_on: { workspaceId, on } },
    create: { workspaceId, on, minutes, note },
    update: { minutes, note, version: { increment: 1 } },
  })
}
