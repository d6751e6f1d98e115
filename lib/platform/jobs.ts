import { EventEmitter } from 'node:events'
import { Logger, parseCronItems, run, type Task, type TaskList, type WorkerEvents } from 'graphile-worker'
import { z } from 'zod'
import { isUnconfirmedAddress } from '@/lib/platform/confirmation'
import { inTransaction, type Tx } from '@/lib/platform/db'
import { env } from '@/lib/platform/env'
import { writeMailText } from '@/lib/platform/invitation-link'
import { LiveWorkers } from '@/lib/platform/live-workers'
import { log } from '@/lib/platform/log'
import { closeMail, hasMailServer, sendMail } from '@/lib/platform/mail'
import { inWorkspace, mintScope, type Workspace, type WorkspaceId } from '@/lib/platform/workspace'

const mailJob = z.strictObject({ workspaceId: z.uuid(), mailId: z.uuid() })

/** Asks for a mail to be sent once this transaction is committed; a rollback takes the job with it. */
export async function enqueueMail(tx: Tx, workspaceId: WorkspaceId, mailId: string): Promise<void> {
  const payload = JSON.stringify(mailJob.parse({ workspaceId, mailId }))
  await tx.$executeRaw`select app.enqueue('send-mail', ${payload}::jsonb)`
}

const zoneJob = z.strictObject({ workspaceId: z.uuid(), zoneId: z.uuid() })
export type ZoneJob = z.output<typeof zoneJob>

/** Asks for a watched zone to be looked at once this transaction is committed. */
export async function enqueueWatchLook(tx: Tx, workspaceId: WorkspaceId, zoneId: string): Promise<void> {
  const payload = JSON.stringify(zoneJob.parse({ workspaceId, zoneId }))
  await tx.$executeRaw`select app.enqueue('watch-look', ${payload}::jsonb)`
}

export function readZoneJob(payload: unknown): ZoneJob {
  return zoneJob.parse(payload)
}

const foodPlanJob = z.strictObject({ workspaceId: z.uuid(), planId: z.uuid() })
export type FoodPlanJob = z.output<typeof foodPlanJob>

/** Asks for live food to be planned once this transaction is committed. */
export async function enqueueFoodPlan(tx: Tx, workspaceId: WorkspaceId, planId: string): Promise<void> {
  const payload = JSON.stringify(foodPlanJob.parse({ workspaceId, planId }))
  await tx.$executeRaw`select app.enqueue('plan-food', ${payload}::jsonb)`
}

/** A plan is looked over again on the next morning, whatever has happened or has not. */
export async function enqueueMorningReplan(tx: Tx, { today, timeZone }: Workspace): Promise<void> {
  await tx.$executeRaw`
    select app.enqueue_replan(((${today}::date + 1) + time '05:00') at time zone ${timeZone} - now())`
}

const replanJob = z.strictObject({ workspaceId: z.uuid() })
export function readReplanJob(payload: unknown): z.output<typeof replanJob> {
  return replanJob.parse(payload)
}

export function readFoodPlanJob(payload: unknown): FoodPlanJob {
  return foodPlanJob.parse(payload)
}

const erasureJob = z.strictObject({ workspaceId: z.uuid(), buyerId: z.uuid() })
export type ErasureJob = z.output<typeof erasureJob>

/** Asks for a person to be forgotten at an instant to come, once this transaction is committed. */
export async function enqueueErasure(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyerId, dueMs }: { buyerId: string; dueMs: number },
): Promise<void> {
  const payload = JSON.stringify(erasureJob.parse({ workspaceId, buyerId }))
  const due = new Date(dueMs).toISOString()
  await tx.$executeRaw`select app.enqueue_at('erase-buyer', ${payload}::jsonb, ${due}::timestamptz)`
}

/** Takes that back: the person is forgotten already. */
export async function dequeueErasure(tx: Tx, workspaceId: WorkspaceId, buyerId: string): Promise<void> {
  const payload = JSON.stringify(erasureJob.parse({ workspaceId, buyerId }))
  await tx.$executeRaw`select app.dequeue('erase-buyer', ${payload}::jsonb)`
}

const forgettingJob = z.strictObject({ workspaceId: z.uuid(), orderId: z.uuid() })

/** Asks for the address of an order to be forgotten at an instant to come, once this transaction is committed. */
export async function enqueueForgetting(
  tx: Tx,
  workspaceId: WorkspaceId,
  { orderId, dueMs }: { orderId: string; dueMs: number },
): Promise<void> {
  const payload = JSON.stringify(forgettingJob.parse({ workspaceId, orderId }))
  const due = new Date(dueMs).toISOString()
  await tx.$executeRaw`select app.enqueue_at('forget-address', ${payload}::jsonb, ${due}::timestamptz)`
}

/** Asks for the past windows of a species to be worked out anew, some time after this transaction is committed. */
export async function enqueuePastWindows(tx: Tx, speciesId: string): Promise<void> {
  await tx.$executeRaw`select app.enqueue_past_windows(${speciesId}::uuid)`
}

const sheetBatchJob = z.strictObject({ workspaceId: z.uuid(), batchId: z.uuid() })
export type SheetBatchJob = z.output<typeof sheetBatchJob>

/** Asks for many care sheets to be set once this transaction is committed. */
export async function enqueueSheetBatch(tx: Tx, workspaceId: WorkspaceId, batchId: string): Promise<void> {
  const payload = JSON.stringify(sheetBatchJob.parse({ workspaceId, batchId }))
  await tx.$executeRaw`select app.enqueue('set-sheets', ${payload}::jsonb)`
}

export function readSheetBatchJob(payload: unknown): SheetBatchJob {
  return sheetBatchJob.parse(payload)
}

const holdJob = z.strictObject({ workspaceId: z.uuid(), reservationId: z.uuid() })

/** Asks for a hold to end at an instant to come, once this transaction is committed. */
export async function enqueueHoldEnd(
  tx: Tx,
  workspaceId: WorkspaceId,
  { reservationId, dueMs }: { reservationId: string; dueMs: number },
): Promise<void> {
  const payload = JSON.stringify(holdJob.parse({ workspaceId, reservationId }))
  const due = new Date(dueMs).toISOString()
  await tx.$executeRaw`select app.enqueue_at('end-hold', ${payload}::jsonb, ${due}::timestamptz)`
}

const sendMailTask: Task = async (payload) => {
  const { workspaceId, mailId } = mailJob.parse(payload)
  // Without a mail server the mail stays to be read inside the service.
  if (!hasMailServer()) return
  const settings = { workspaceId, personId: null, apiTokenId: null }
  try {
    await inTransaction(settings, (tx) => sendOnce(tx, workspaceId, mailId))
  } catch (error) {
    const failure = error instanceof Error ? error.message.slice(0, 300) : 'unknown'
    await inTransaction(settings, (tx) =>
      tx.mailMessage.updateMany({ where: { workspaceId, id: mailId, sentAt: null }, data: { failure } }),
    )
    throw error
  }
}

/** The row stays locked while the mail is handed over, so that two workers never send it both. */
async function sendOnce(tx: Tx, workspaceId: string, mailId: string): Promise<void> {
  const locked = await tx.$queryRaw<{ id: string }[]>`
    select id from mail_message
    where workspace_id = ${workspaceId}::uuid and id = ${mailId}::uuid and sent_at is null for update`
  if (locked.length === 0) return
  const key = { workspaceId_id: { workspaceId, id: mailId } }
  const mail = await tx.mailMessage.findUniqueOrThrow({ where: key })
  const { toAddress: to, subject, html } = mail
  // An invitation is how somebody is asked at all; everything else goes to addresses that are known to be their owner's.
  if (!mail.invitationId && (await isUnconfirmedAddress(to))) {
    const failure = 'Not sent: this person has not confirmed the address yet.'
    await tx.mailMessage.update({ where: key, data: { failure } })
    return
  }
  await sendMail({ id: mailId, to, subject, text: writeMailText(mail), html })
  await tx.mailMessage.update({ where: key, data: { sentAt: new Date(), failure: null } })
}

/** One kind of work for a workspace, asked for with `app.enqueue…` in the transaction that makes it necessary. */
export type WorkspaceTask<Payload> = {
  payload: z.ZodType<Payload>
  run: (tx: Tx, workspace: Workspace, payload: Payload) => Promise<unknown>
  /** Makes a failed attempt visible; the work is tried again afterwards. */
  recordFailure: (
    tx: Tx,
    workspace: Workspace,
    failed: { payload: Payload; failure: string },
  ) => Promise<void>
}

/**
 * A task in one transaction of its workspace, so that a process that dies in it leaves nothing half done. The
 * workspace was written into the payload by the database, from the transaction that asked.
 */
export function workspaceTask<Payload extends { workspaceId: string }>(task: WorkspaceTask<Payload>): Task {
  return async (received) => {
    const payload = task.payload.parse(received)
    const scope = mintScope({ workspaceId: payload.workspaceId, personId: null, role: 'owner' })
    try {
      await inWorkspace(scope, (tx, workspace) => task.run(tx, workspace, payload))
    } catch (error) {
      const failure = error instanceof Error ? error.message.slice(0, 300) : 'unknown'
      await inWorkspace(scope, (tx, workspace) => task.recordFailure(tx, workspace, { payload, failure }))
      throw error
    }
  }
}

/** Work of features, by the name of its job; the others name those that no request asks for. */
export type FeatureJobs = {
  tasks: TaskList
  everyMinute: readonly string[]
  everyQuarterHour?: readonly string[]
}

/** Runs the queue until it is stopped; signals are the caller's, who stops the server first. */
export async function startJobs(
  { tasks, everyMinute, everyQuarterHour = [] }: FeatureJobs = { tasks: {}, everyMinute: [] },
): Promise<{ stop(): Promise<void> }> {
  const workers = new LiveWorkers()
  await workers.start()
  const events: WorkerEvents = new EventEmitter()
  events.on('worker:create', ({ worker }) => workers.add(worker.workerId))
  const runner = await run({
    events,
    connectionString: env().JOBS_DATABASE_URL,
    concurrency: 2,
    noHandleSignals: true,
    parsedCronItems: parseCronItems([
      ...everyMinute.map((task) => ({ task, match: '* * * * *' })),
      ...everyQuarterHour.map((task) => ({ task, match: '*/15 * * * *' })),
    ]),
    taskList: { 'send-mail': sendMailTask, ...tasks },
    logger: workerLogger(),
  })
  const stop = async () => {
    await runner.stop()
    await workers.stop()
    closeMail()
  }
  return { stop }
}

const LEVELS = { error: 'error', warning: 'warn', info: 'debug', debug: 'trace' } as const

/** The queue's own words go where the service's go, as JSON lines; payloads are never among them. */
function workerLogger(): Logger {
  return new Logger(() => (level, message) => log[LEVELS[level]]({ where: 'jobs' }, message))
}
