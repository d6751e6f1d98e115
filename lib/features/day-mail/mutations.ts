import { writeLongDay } from '@/lib/domain/calendar/wording'
import { writeDayMail } from '@/lib/domain/day-sheet/mail'
import { loadDayMail } from '@/lib/features/day-mail/data'
import type { DayMailSetting } from '@/lib/features/day-mail/schema'
import { loadDayList } from '@/lib/features/day-sheet/data'
import type { Tx } from '@/lib/platform/db'
import { env } from '@/lib/platform/env'
import { AppError, invariant } from '@/lib/platform/errors'
import { enqueueMail } from '@/lib/platform/jobs'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor } from '@/lib/platform/workspace'

/**
 * The hour at which a person wants the day sheet by mail. Where it has passed today, the first one comes tomorrow.
 * @throws AppError stale when they changed it elsewhere meanwhile
 */
export async function recordDayMail(
  tx: Tx,
  { scope, workspace }: Actor,
  { version, hour }: DayMailSetting,
): Promise<{ version: number }> {
  const { workspaceId, today, timeZone } = workspace
  const { personId } = scope
  invariant(personId, 'a mail goes to a person')
  const hasPassed = hourIn(timeZone, new Date()) >= hour
  const data = { hour, endedAt: null, ...(hasPassed ? { lastOn: fromPlainDate(today) } : {}) }
  const present = await loadDayMail(tx, workspaceId, personId)
  if (present.version !== version) throw refuseStale(present)
  if (version === 0) await tx.dayMail.create({ data: { workspaceId, personId, ...data } })
  else await changeDayMail(tx, { workspaceId, personId, version }, data)
  return { version: version + 1 }
}

/** No more mails. @throws AppError stale */
export async function endDayMail(
  tx: Tx,
  { scope, workspace }: Actor,
  { version }: { version: number },
): Promise<{ version: number }> {
  const { workspaceId } = workspace
  const { personId } = scope
  invariant(personId, 'a mail goes to a person')
  await changeDayMail(tx, { workspaceId, personId, version }, { endedAt: new Date() })
  return { version: version + 1 }
}

type Key = { workspaceId: Actor['workspace']['workspaceId']; personId: string; version: number }
type Change = { hour?: number; endedAt: Date | null; lastOn?: Date }

async function changeDayMail(tx: Tx, key: Key, data: Change): Promise<void> {
  const { workspaceId, personId, version } = key
  const changed = await tx.dayMail.updateMany({
    where: { workspaceId, personId, version },
    data: { ...data, version: { increment: 1 } },
  })
  if (changed.count === 0) throw refuseStale(await loadDayMail(tx, workspaceId, personId))
}

function refuseStale({ hour, version }: { hour: number; version: number }): AppError {
  return new AppError('stale', 'You changed this elsewhere meanwhile.', { present: { hour, version } })
}

/** The hour of the clock on the wall, 0 to 23. */
function hourIn(timeZone: string, now: Date): number {
  return Number(new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', hourCycle: 'h23' }).format(now))
}

/**
 * Writes today's mail for a person, once: the day is taken first, and the mail and the order to send it stand in the
 * same transaction. So one that dies leaves nothing, and a second one finds the day taken.
 */
export async function createDayMail(tx: Tx, { scope, workspace }: Actor): Promise<{ isWritten: boolean }> {
  const { workspaceId, today, name, slug } = workspace
  const { personId } = scope
  invariant(personId, 'a mail goes to a person')
  const on = fromPlainDate(today)
  const taken = await tx.dayMail.updateMany({
    where: { workspaceId, personId, endedAt: null, OR: [{ lastOn: null }, { lastOn: { lt: on } }] },
    data: { lastOn: on },
  })
  if (taken.count === 0) return { isWritten: false }
  const { email } = await tx.membership.findUniqueOrThrow({
    where: { workspaceId_personId: { workspaceId, personId } },
    select: { email: true },
  })
  const { tasks } = await loadDayList(tx, workspace)
  const addressOf = (path: string) => new URL(`/w/${slug}${path}`, env().PUBLIC_ADDRESS).href
  const { subject, text, html } = writeDayMail({
    workspaceName: name,
    day: writeLongDay(today),
    tasks,
    sheetAddress: addressOf(''),
    settingAddress: addressOf('/reminders'),
  })
  const mail = await tx.mailMessage.create({
    data: { workspaceId, toAddress: email, subject, body: text, html },
    select: { id: true },
  })
  await enqueueMail(tx, workspaceId, mail.id)
  return { isWritten: true }
}
