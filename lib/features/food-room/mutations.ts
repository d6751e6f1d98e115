import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import type {
  ArchiveMouth,
  CreateMouth,
  RecordClosedDay,
  UpdateFoodLimits,
} from '@/lib/features/food-room/schema'
import { requireStoredLine } from '@/lib/features/prey/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

const listChosen = (week: readonly boolean[]) =>
  week.flatMap((isChosen, index) => (isChosen ? [index + 1] : []))

/** Somebody else who eats again and again. */
export async function createMouth(
  tx: Tx,
  workspaceId: WorkspaceId,
  mouth: CreateMouth,
): Promise<{ id: string }> {
  const { line } = await requireStoredLine(tx, workspaceId, mouth.line)
  return tx.otherMouth.create({
    data: {
      workspaceId,
      name: mouth.name,
      slug: line.id,
      itemsEachTime: mouth.itemsEachTime,
      weekdays: listChosen(mouth.weekdays),
      fromOn: fromPlainDateOrNull(mouth.from),
      untilOn: fromPlainDateOrNull(mouth.until),
    },
    select: { id: true },
  })
}

/** @throws AppError stale when it was ended meanwhile */
export async function archiveMouth(
  tx: Tx,
  workspaceId: WorkspaceId,
  { mouth, version }: ArchiveMouth,
): Promise<void> {
  const known = await tx.otherMouth.findUnique({
    where: { workspaceId_id: { workspaceId, id: mouth } },
    select: { id: true },
  })
  if (!known) throw refuseUnknown('mouth')
  const changed = await tx.otherMouth.updateMany({
    where: { workspaceId, id: mouth, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'This was changed meanwhile.')
}

/** Places, minutes, weekdays and the service level. @throws AppError stale with the present ones */
export async function updateFoodLimits(
  tx: Tx,
  workspaceId: WorkspaceId,
  limits: UpdateFoodLimits,
): Promise<{ version: number }> {
  const { version, shelfPlaces = null, minutesPerStartDay = null, servicePercent } = limits
  const data = {
    shelfPlaces,
    minutesPerStartDay,
    startWeekdays: listChosen(limits.startWeekdays),
    serviceLevel: servicePercent / 100,
  }
  if (version === 0) {
    const made = await tx.foodLimits.createMany({ data: [{ workspaceId, ...data }], skipDuplicates: true })
    if (made.count === 1) return { version: 1 }
  }
  const changed = await tx.foodLimits.updateMany({
    where: { workspaceId, version },
    data: { ...data, version: { increment: 1 } },
  })
  if (changed.count === 1) return { version: version + 1 }
  throw new AppError('stale', 'Somebody else changed the limits meanwhile. Load the page anew to see them.')
}

const LONGEST_CLOSED_DAYS = 60

/** Days on which nobody works here, or the supplier is closed; or that they are open after all. */
export async function recordClosedDay(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { side, on, until = on, isClosed, note }: RecordClosedDay,
): Promise<{ days: number }> {
  if (until < today) throw refuseField('on', 'This day has passed.')
  if (until > addDays(today, 730)) throw refuseField('until', 'is more than two years ahead')
  const days = daysBetween(on, until) + 1
  if (days > LONGEST_CLOSED_DAYS) throw refuseField('until', `At most ${LONGEST_CLOSED_DAYS} days at once.`)
  for (let day = 0; day < days; day += 1) {
    const key = { workspaceId, side, on: fromPlainDate(addDays(on, day)) }
    await tx.foodClosedDay.upsert({
      where: { workspaceId_side_on: key },
      create: { ...key, closed: isClosed, note },
      update: { closed: isClosed, note, version: { increment: 1 } },
    })
  }
  return { days }
}
