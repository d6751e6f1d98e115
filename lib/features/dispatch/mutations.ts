import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { loadDispatchBook } from '@/lib/features/dispatch/data'
import type { ClosedForSending, RecordAir, UpdateRules } from '@/lib/features/dispatch/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace } from '@/lib/platform/workspace'

const MOST_CLOSED_DAYS = 60
const MOST_DAYS_AHEAD = 400

/** When and how boxes are sent. @throws AppError stale */
export async function updateDispatchRules(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { version, weekdays, ...rules }: UpdateRules,
): Promise<void> {
  const values = { ...rules, weekdays: weekdays.flatMap((isSent, index) => (isSent ? [index + 1] : [])) }
  const changed = await tx.dispatchRules.updateMany({
    where: { workspaceId, version },
    data: { ...values, version: { increment: 1 } },
  })
  if (changed.count > 0) return
  const made =
    version === 0
      ? await tx.dispatchRules.createMany({ data: [{ workspaceId, ...values }], skipDuplicates: true })
      : { count: 0 }
  if (made.count > 0) return
  const { rules: present } = await loadDispatchBook(tx, workspaceId, { today })
  throw new AppError('stale', 'Somebody else changed this meanwhile.', { present })
}

/** Days on which nothing is carried or taken in, or that they are open after all. */
export async function recordClosedForSending(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { country, on, until, isClosed, note }: ClosedForSending,
): Promise<void> {
  const days = daysBetween(on, until || on) + 1
  if (days > MOST_CLOSED_DAYS) throw refuseField('until', `At most ${MOST_CLOSED_DAYS} days at once.`)
  if (on > addDays(today, MOST_DAYS_AHEAD)) throw refuseField('on', 'is more than a year ahead')
  for (let day = 0; day < days; day += 1) {
    const key = { workspaceId, country, on: fromPlainDate(addDays(on, day)) }
    await tx.dispatchClosedDay.upsert({
      where: { workspaceId_country_on: key },
      create: { ...key, closed: isClosed, note },
      update: { closed: isClosed, note, version: { increment: 1 } },
    })
  }
}

/** The air of a day as somebody looked it up. What is typed again replaces what was typed before. */
export async function recordAir(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { area, on, lowC, highC }: RecordAir,
): Promise<void> {
  if (on > addDays(today, MOST_DAYS_AHEAD)) throw refuseField('on', 'is more than a year ahead')
  const key = { workspaceId, area, on: fromPlainDate(on) }
  await tx.airDay.upsert({
    where: { workspaceId_area_on: key },
    create: { ...key, lowC, highC },
    update: { lowC, highC, version: { increment: 1 } },
  })
}
