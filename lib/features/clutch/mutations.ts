import type { PlainDate } from '@/lib/domain/calendar/date'
import {
  type EntryState,
  type HeadCount,
  type HeadCountEntry,
  recountEntry,
} from '@/lib/domain/head-count/head-count'
import type { LossCause } from '@/lib/domain/head-count/loss-cause'
import {
  type LockedClutch,
  loadHeadCount,
  lockClutch,
  raiseNeeded,
  requireClutch,
} from '@/lib/features/clutch/data'
import type {
  ClutchMove,
  CountCorrection,
  FoundAgain,
  NewLoss,
  NewRecount,
  Reversal,
} from '@/lib/features/clutch/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor } from '@/lib/platform/workspace'

export type WrittenEntry = { id: string; from: EntryState; to: EntryState; count: number; on: PlainDate }
type NewEntry = HeadCountEntry & { on: PlainDate; cause?: LossCause | null; note?: string; reverses?: string }

async function createEntry(
  tx: Tx,
  { scope, workspace }: Actor,
  { clutchId, entry }: { clutchId: string; entry: NewEntry },
): Promise<WrittenEntry> {
  const { from, to, count, on, cause, note, reverses } = entry
  const made = await tx.headCountEntry.create({
    data: {
      workspaceId: workspace.workspaceId,
      clutchId,
      from,
      to,
      count,
      on: fromPlainDate(on),
      cause: cause ?? null,
      note: note ?? '',
      reverses: reverses ?? null,
      recordedBy: scope.personId,
    },
    select: { id: true },
  })
  return { id: made.id, from, to, count, on }
}

/** @throws AppError invalid outside hatch … today */
function refuseWrongDay(
  on: PlainDate,
  { hatchedOn, today }: { hatchedOn: PlainDate; today: PlainDate },
): void {
  refuseFuture('on', on, today)
  if (on < hatchedOn) throw refuseField('on', `They hatched on ${hatchedOn}.`)
}

export type LossOutcome = { entry: WrittenEntry; headCount: HeadCount }

/** Animals of the group that died, escaped or were given away. */
export async function recordLoss(tx: Tx, recording: Actor, loss: NewLoss): Promise<Warned<LossOutcome>> {
  const { workspaceId, today } = recording.workspace
  const clutch = await lockClutch(tx, workspaceId, loss.clutch)
  refuseWrongDay(loss.on, { hatchedOn: clutch.hatchedOn, today })
  const raise = raiseNeeded(clutch, loss.count)
  const warnings = await raiseCount(tx, recording, { clutch, count: raise, on: loss.on })
  const entry = await createEntry(tx, recording, {
    clutchId: clutch.id,
    entry: {
      from: 'together',
      to: loss.to,
      count: loss.count,
      on: loss.on,
      cause: loss.to === 'dead' ? loss.cause : null,
      note: loss.note,
    },
  })
  const headCount = await loadHeadCount(tx, workspaceId, { clutchId: clutch.id })
  return { value: { entry, headCount }, warnings }
}

async function raiseCount(
  tx: Tx,
  recording: Actor,
  { clutch, count, on }: { clutch: LockedClutch; count: number; on: PlainDate },
): Promise<Warning[]> {
  if (count === 0) return []
  const entry: NewEntry = { from: 'uncounted', to: 'together', count, on, note: 'more than "about"' }
  await createEntry(tx, recording, { clutchId: clutch.id, entry })
  const hatched = clutch.headCount.hatched + count
  return [
    { code: 'count-raised', message: `The count of ${clutch.label} was "about" and is now ${hatched}.` },
  ]
}

export type RecountOutcome = { entry: WrittenEntry | null; headCount: HeadCount }

/**
 * Records how many were counted together on a day. An "about" becomes a count, the difference being its correction;
 * in a counted clutch the difference is unaccounted, the visible price of late separation.
 */
export async function recordRecount(
  tx: Tx,
  recording: Actor,
  recount: NewRecount,
): Promise<Warned<RecountOutcome>> {
  const { workspaceId, today } = recording.workspace
  const clutch = await lockClutch(tx, workspaceId, recount.clutch)
  refuseWrongDay(recount.on, { hatchedOn: clutch.hatchedOn, today })
  const known = await loadHeadCount(tx, workspaceId, { clutchId: clutch.id, asOf: recount.on })
  const asked = recountEntry(known, { together: recount.counted, isSettled: clutch.counted })
  if (asked?.from === 'together' && asked.count > clutch.headCount.together) throw leftSince(clutch)
  const note = recount.note || `${recount.counted} counted together`
  const entry = asked
    ? await createEntry(tx, recording, { clutchId: clutch.id, entry: { ...asked, on: recount.on, note } })
    : null
  if (!clutch.counted) await settleClutch(tx, recording, clutch.id)
  const headCount = await loadHeadCount(tx, workspaceId, { clutchId: clutch.id })
  return { value: { entry, headCount }, warnings: [] }
}

function leftSince({ label, headCount }: LockedClutch): AppError {
  return new AppError(
    'more-than-left',
    `Since that day so many have left ${label} that the difference cannot be right. Count today instead.`,
    {
      fields: [{ path: 'counted', message: 'Does not fit what was recorded since.' }],
      present: { headCount },
    },
  )
}

async function settleClutch(tx: Tx, { workspace: { workspaceId } }: Actor, clutchId: string): Promise<void> {
  await tx.clutch.update({
    where: { workspaceId_id: { workspaceId, id: clutchId } },
    data: { counted: true, hatchedLow: null, hatchedHigh: null, version: { increment: 1 } },
  })
}

/** The hatch itself was miscounted: its number is put right, and nobody is lost or found by that. */
export async function recordCountCorrection(
  tx: Tx,
  recording: Actor,
  typed: CountCorrection,
): Promise<Warned<RecountOutcome>> {
  const { workspaceId, today } = recording.workspace
  const clutch = await lockClutch(tx, workspaceId, typed.clutch)
  refuseWrongDay(typed.on, { hatchedOn: clutch.hatchedOn, today })
  const difference = typed.hatched - clutch.headCount.hatched
  const least = clutch.headCount.hatched - clutch.headCount.together
  if (typed.hatched < least)
    throw refuseField('hatched', `${least} have already left the group, so at least so many hatched.`)
  const move: HeadCountEntry =
    difference > 0
      ? { from: 'uncounted', to: 'together', count: difference }
      : { from: 'together', to: 'uncounted', count: -difference }
  const note = typed.note || 'count corrected'
  const entry =
    difference === 0
      ? null
      : await createEntry(tx, recording, { clutchId: clutch.id, entry: { ...move, on: typed.on, note } })
  if (!clutch.counted) await settleClutch(tx, recording, clutch.id)
  const headCount = await loadHeadCount(tx, workspaceId, { clutchId: clutch.id })
  return { value: { entry, headCount }, warnings: [] }
}

/**
 * Escaped animals of the group that turned up again: newest escapes are reversed first, and what is left of the last
 * one escapes anew, so that each entry is reversed whole and once.
 */
export async function recordFoundAgain(
  tx: Tx,
  recording: Actor,
  found: FoundAgain,
): Promise<Warned<RecountOutcome>> {
  const { workspaceId, today } = recording.workspace
  const clutch = await lockClutch(tx, workspaceId, found.clutch)
  refuseWrongDay(found.on, { hatchedOn: clutch.hatchedOn, today })
  const escapes = await tx.headCountEntry.findMany({
    where: {
      workspaceId,
      clutchId: clutch.id,
      individualId: null,
      to: 'escaped',
      reverses: null,
      reversal: null,
    },
    orderBy: [{ on: 'desc' }, { id: 'desc' }],
  })
  let open = found.count
  let entry: WrittenEntry | null = null
  for (const gone of escapes) {
    if (open <= 0) break
    const back: NewEntry = {
      from: 'escaped',
      to: gone.from,
      count: gone.count,
      on: found.on,
      note: 'found again',
      reverses: gone.id,
    }
    entry = await createEntry(tx, recording, { clutchId: clutch.id, entry: back })
    const still = gone.count - open
    const on = toPlainDate(gone.on)
    const again: NewEntry = { from: gone.from, to: 'escaped', count: still, on, note: 'not found yet' }
    if (still > 0) await createEntry(tx, recording, { clutchId: clutch.id, entry: again })
    open -= gone.count
  }
  if (open > 0)
    throw new AppError('more-than-left', 'That is more than have escaped from this group.', {
      fields: [{ path: 'count', message: `Only ${found.count - open} have escaped.` }],
    })
  return {
    value: { entry, headCount: await loadHeadCount(tx, workspaceId, { clutchId: clutch.id }) },
    warnings: [],
  }
}

/**
 * Takes an entry of the group back, on its own day, as if it had not been made.
 * @throws AppError already-reversed, more-than-left; stale for entries that something else has to take back
 */
export async function recordReversal(
  tx: Tx,
  recording: Actor,
  asked: Reversal,
): Promise<Warned<LossOutcome>> {
  const { workspaceId } = recording.workspace
  const clutch = await lockClutch(tx, workspaceId, asked.clutch)
  const entry = await tx.headCountEntry.findFirst({
    where: { workspaceId, id: asked.entry, clutchId: clutch.id },
    include: { reversal: { select: { id: true } } },
  })
  if (!entry) throw refuseUnknown('entry')
  if (entry.reversal) throw new AppError('already-reversed', 'That entry has already been taken back.')
  if (entry.reverses)
    throw new AppError('stale', 'That entry takes another one back. Record it anew instead.')
  if (entry.individualId)
    throw new AppError('stale', 'This entry is of one animal: take it back on the page of that animal.')
  const reversal = await createEntry(tx, recording, {
    clutchId: clutch.id,
    entry: {
      from: entry.to,
      to: entry.from,
      count: entry.count,
      on: toPlainDate(entry.on),
      note: asked.note || 'taken back',
      reverses: entry.id,
    },
  })
  const headCount = await loadHeadCount(tx, workspaceId, { clutchId: clutch.id })
  return { value: { entry: reversal, headCount }, warnings: [] }
}

/** Puts the siblings who are together somewhere else from a day on. */
export async function updateClutchZone(tx: Tx, { workspace }: Actor, move: ClutchMove): Promise<void> {
  const { workspaceId, today } = workspace
  await lockClutch(tx, workspaceId, move.clutch)
  const clutch = await requireClutch(tx, workspaceId, { id: move.clutch })
  refuseWrongDay(move.on, { hatchedOn: clutch.hatchedOn, today })
  const present = clutch.stays.find((stay) => stay.until === null)
  invariant(present, 'siblings stand somewhere')
  if (present.colonyId)
    throw refuseField('zone', 'They live in a colony: move the colony, or put them into a box.')
  if (move.on < present.from) throw refuseField('on', `They have been where they are since ${present.from}.`)
  if (move.zone === present.zoneId) throw refuseField('zone', 'They are there already.')
  await tx.clutchHousing.updateMany({
    where: { workspaceId, clutchId: clutch.id, untilOn: null },
    data: { untilOn: fromPlainDate(move.on) },
  })
  await tx.clutchHousing.create({
    data: {
      workspaceId,
      clutchId: clutch.id,
      zoneId: move.zone,
      containerId: present.containerId,
      fromOn: fromPlainDate(move.on),
    },
  })
}
