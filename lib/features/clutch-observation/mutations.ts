import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { ordinal } from '@/lib/domain/instar/label'
import { paceOfClutch, sharesByDay } from '@/lib/domain/separation/deadline'
import { isSpoken, likelyMoultNumber, sightingsAsOf } from '@/lib/domain/separation/sighting'
import {
  type ClutchRow,
  type LockedClutch,
  lockClutch,
  requireClutch,
  separationInputOf,
} from '@/lib/features/clutch/data'
import type {
  ArchiveObservation,
  NewObservation,
  ObservationAnswer,
} from '@/lib/features/clutch-observation/schema'
import { loadForecastGround } from '@/lib/features/egg-case/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor } from '@/lib/platform/workspace'

/**
 * What was seen of the siblings together: it moves their deadline and the stages they are expected in. Those found
 * dead leave the group by an entry of their own, in the same transaction.
 */
export async function recordClutchObservation(
  tx: Tx,
  actor: Actor,
  seen: NewObservation,
): Promise<Warned<ObservationAnswer>> {
  const { scope, workspace } = actor
  const { workspaceId, today } = workspace
  const clutch = await lockClutch(tx, workspaceId, seen.clutch)
  refuseWrongDay(clutch, { on: seen.on, today })
  const { on, moulted, sizeGap, hunger, hanging = null, wingBuds, refusesFood, note } = seen
  const known = await loadKnown(tx, actor, seen)
  const number = seen.number ?? likelyNumber(seen, known)
  const made = await tx.clutchObservation.create({
    data: {
      workspaceId,
      clutchId: clutch.id,
      on: fromPlainDate(on),
      moulted,
      number,
      sizeGap,
      hunger,
      hanging,
      wingBuds,
      refusesFood,
      note,
      seenBy: scope.personId,
    },
    select: { id: true },
  })
  const dead = seen.dead ?? 0
  if (dead > 0) await createDeaths(tx, actor, { clutch, dead, on })
  const signs = { sizeGap, hunger, hanging, wingBuds, refusesFood }
  const observation = { id: made.id, on, moulted, number, ...signs, dead, note }
  return { value: observation, warnings: doubts(observation, known, today) }
}

/** @throws AppError invalid outside hatch … today, and for a group that is no longer one */
function refuseWrongDay(
  { hatchedOn, headCount, label }: LockedClutch,
  { on, today }: { on: PlainDate; today: PlainDate },
): void {
  refuseFuture('on', on, today)
  if (on < hatchedOn) throw refuseField('on', `They hatched on ${writeDay(hatchedOn, today)}.`)
  if (headCount.together === 0)
    throw new AppError('more-than-left', `Nobody of ${label} is together any more.`, {
      fields: [{ path: 'moulted', message: 'Nobody is left together.' }],
    })
}

type Known = { row: ClutchRow; input: ReturnType<typeof separationInputOf> }

/** What was expected of the clutch that day, with what had been seen before it. */
async function loadKnown(tx: Tx, { workspace }: Actor, seen: NewObservation): Promise<Known> {
  const row = await requireClutch(tx, workspace.workspaceId, { id: seen.clutch })
  const ground = await loadForecastGround(tx, workspace)
  return { row, input: separationInputOf(row, { ...ground, today: seen.on }) }
}

function likelyNumber({ moulted, on }: NewObservation, { row, input }: Known): number {
  const before = sightingsAsOf(row.sightings, on).findLast(isSpoken)
  const shares = input ? sharesByDay(input)(on) : [1, 0]
  return Math.min(12, likelyMoultNumber(shares, moulted, before))
}

async function createDeaths(
  tx: Tx,
  { scope, workspace: { workspaceId } }: Actor,
  { clutch, dead, on }: { clutch: LockedClutch; dead: number; on: PlainDate },
): Promise<void> {
  const { hatched, together } = clutch.headCount
  const missing = Math.max(0, dead - together)
  const highest = clutch.counted ? hatched : (clutch.hatchedHigh ?? hatched)
  if (missing > 0 && hatched + missing > highest)
    throw new AppError('more-than-left', `Only ${together} of ${clutch.label} are together.`, {
      fields: [{ path: 'dead', message: `Only ${together} are left together.` }],
      present: { headCount: clutch.headCount },
    })
  const entry = { workspaceId, clutchId: clutch.id, on: fromPlainDate(on), recordedBy: scope.personId }
  if (missing > 0)
    await tx.headCountEntry.create({
      data: { ...entry, from: 'uncounted', to: 'together', count: missing, note: 'more than "about"' },
    })
  await tx.headCountEntry.create({
    data: {
      ...entry,
      from: 'together',
      to: 'dead',
      count: dead,
      cause: 'unknown',
      note: 'found when looked at',
    },
  })
}

/** Below this chance the record and the warmth disagree so much that somebody should look again. */
const DOUBTFUL_CHANCE = 0.03

function doubts(seen: ObservationAnswer, { input }: Known, today: PlainDate): Warning[] {
  const pace = input && paceOfClutch({ ...input, sightings: [seen] })
  if (!pace || pace.leastChance >= DOUBTFUL_CHANCE) return []
  const message =
    `Recorded. By the warmth since the hatch this was hardly to be expected on ${writeDay(seen.on, today)}: ` +
    `is it the ${ordinal(seen.number)} moult, and does the temperature of the zone hold?`
  return [{ code: 'unlikely-observation', message }]
}

/** Takes back what was seen, as if nobody had looked; deaths recorded with it stay in the ledger. */
export async function archiveClutchObservation(
  tx: Tx,
  { workspace: { workspaceId } }: Actor,
  { observation, version }: ArchiveObservation,
): Promise<{ observation: string }> {
  const known = await tx.clutchObservation.findUnique({
    where: { workspaceId_id: { workspaceId, id: observation } },
    select: { id: true },
  })
  if (!known) throw refuseUnknown('observation')
  const changed = await tx.clutchObservation.updateMany({
    where: { workspaceId, id: observation, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'This was taken back or changed meanwhile.')
  return { observation }
}
