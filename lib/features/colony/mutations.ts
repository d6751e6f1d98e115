import { daysBetween, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { adultMoults, isTooWide, likelySpan, type StageSpan, spanOf } from '@/lib/domain/colony/company'
import { sharesByDay } from '@/lib/domain/separation/deadline'
import {
  type ClutchRow,
  loadClutchGround,
  lockClutch,
  requireClutch,
  separationInputOf,
} from '@/lib/features/clutch/data'
import { type ColonyRow, capacityOf, requireColony, spanInside } from '@/lib/features/colony/data'
import type {
  ArchiveColony,
  MoveColony,
  NewColony,
  NewColonyCount,
  NewColonyEntry,
} from '@/lib/features/colony/schema'
import { endClutchStay, requireKind, requireOpenZone } from '@/lib/features/housing/data'
import { requireSpecies } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * Begins a colony in a container for several.
 * @throws AppError invalid where the care profile does not allow one
 */
export async function createColony(
  tx: Tx,
  { workspace }: Actor,
  typed: NewColony,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', typed.on, today)
  const species = await requireSpecies(tx, workspaceId, typed.species)
  if (!species.profile?.separation.allowsColony.value)
    throw refuseField(
      'species',
      `By its care profile ${species.scientificName} does not live together. Change that on its page first, if your own experience says so.`,
    )
  await requireOpenZone(tx, workspaceId, typed.zone)
  const { kind, warnings } = await requireKind(tx, workspaceId, {
    containerKind: typed.containerKind,
    animals: 1,
  })
  if (kind.single) throw refuseField('containerKind', 'This kind is for one animal. Choose one for several.')
  const container = await tx.container.create({
    data: { workspaceId, containerKindId: kind.id, single: false },
    select: { id: true },
  })
  const value = await tx.colony.create({
    data: {
      workspaceId,
      name: typed.name,
      speciesId: species.id,
      containerId: container.id,
      zoneId: typed.zone,
      openedOn: fromPlainDate(typed.on),
      notes: typed.notes,
    },
    select: { id: true },
  })
  return { value, warnings }
}

/**
 * Puts the siblings of a clutch who are together into a colony. The database has the last word on whether they may:
 * one species, allowed by its care profile, nobody more than one instar apart. Room is advice, kept with the stay.
 */
export async function recordColonyEntry(
  tx: Tx,
  { workspace }: Actor,
  entry: NewColonyEntry,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', entry.on, today)
  await lockClutch(tx, workspaceId, entry.clutch)
  const clutch = await requireClutch(tx, workspaceId, { id: entry.clutch })
  const colony = await requireColony(tx, workspaceId, entry.colony)
  refuseWrongEntry(clutch, colony, { on: entry.on, today })
  const { profile } = await requireSpecies(tx, workspaceId, colony.speciesId)
  const span = await findSpan(tx, workspace, { clutch, entry })
  const tooMany = findTooMany(colony, { profile, span, coming: clutch.headCount.together })
  await endClutchStay(tx, workspaceId, { clutchId: clutch.id, on: entry.on, leavesContainer: true })
  await tx.clutchHousing.create({
    data: {
      workspaceId,
      clutchId: clutch.id,
      zoneId: colony.zoneId,
      containerId: colony.containerId,
      colonyId: colony.id,
      fromOn: fromPlainDate(entry.on),
      leastMoults: span.least,
      mostMoults: span.most,
      tooMany,
      overrideReason: tooMany ? entry.overrideReason : '',
    },
  })
  const warnings = [...sayTooMany(tooMany), ...sayOldCount(colony, entry.on)]
  return { value: { id: colony.id }, warnings }
}

function refuseWrongEntry(
  clutch: ClutchRow,
  colony: ColonyRow,
  { on, today }: { on: PlainDate; today: PlainDate },
): void {
  const present = clutch.stays.find(({ until }) => until === null)
  if (clutch.headCount.together === 0)
    throw new AppError('more-than-left', `Nobody of ${clutch.label} is together.`, {
      fields: [{ path: 'clutch', message: 'Nobody is left together.' }],
    })
  if (present?.colonyId === colony.id) throw refuseField('clutch', `${clutch.label} lives in it already.`)
  if (on < clutch.hatchedOn) throw refuseField('on', `They hatched on ${writeDay(clutch.hatchedOn, today)}.`)
  if (present && on < present.from)
    throw refuseField('on', `They have been where they are since ${writeDay(present.from, today)}.`)
}

/** The stages somebody saw, or those that are expected of the clutch on that day. */
async function findSpan(
  tx: Tx,
  workspace: Workspace,
  { clutch, entry }: { clutch: ClutchRow; entry: NewColonyEntry },
): Promise<StageSpan> {
  const { leastMoults, mostMoults, on } = entry
  if (leastMoults !== undefined && mostMoults !== undefined) return { least: leastMoults, most: mostMoults }
  const ground = await loadClutchGround(tx, workspace, { asOf: on })
  const input = separationInputOf(clutch, ground)
  if (!input) throw refuseField('leastMoults', 'Say how many moults they have made: nothing can be expected.')
  const { least, most } = likelySpan(sharesByDay(input)(on))
  return {
    least: leastMoults ?? Math.min(least, mostMoults ?? least),
    most: mostMoults ?? Math.max(most, leastMoults ?? most),
  }
}

type Coming = { profile: CareProfile | null; span: StageSpan; coming: number }

function findTooMany(colony: ColonyRow, { profile, span, coming }: Coming): number | null {
  const inside = spanInside(colony)
  const most = { least: span.least, most: Math.max(span.most, inside?.most ?? 0) }
  const capacity = capacityOf(colony, profile, most)
  const animals = colony.members.reduce((sum, { together }) => sum + together, coming)
  return capacity !== null && animals > capacity ? animals - capacity : null
}

function sayTooMany(tooMany: number | null): Warning[] {
  if (!tooMany) return []
  const message = `Recorded. That is ${tooMany} more than there is room for: each needs a cube of three body lengths.`
  return [{ code: 'too-many', message }]
}

/** After so long the stages inside are a guess. */
const OLD_COUNT_DAYS = 14

function sayOldCount({ countedOn, members }: ColonyRow, on: PlainDate): Warning[] {
  if (members.length === 0) return []
  const since = members.map(({ from }) => from).reduce(maxDate, countedOn ?? '0001-01-01')
  const age = daysBetween(since, on)
  if (age <= OLD_COUNT_DAYS) return []
  const message = `Recorded. Nobody has counted who is inside for ${age} days: count them by sex and instar.`
  return [{ code: 'old-count', message }]
}

/** Who is inside, by sex and instar. It takes the place of a count of the same day. */
export async function recordColonyCount(
  tx: Tx,
  { scope, workspace }: Actor,
  count: NewColonyCount,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', count.on, today)
  const colony = await lockColony(tx, workspaceId, count.colony)
  if (count.on < colony.openedOn)
    throw refuseField('on', `The colony began on ${writeDay(colony.openedOn, today)}.`)
  const { profile } = await requireSpecies(tx, workspaceId, colony.speciesId)
  const lines = readLines(count, profile)
  const on = fromPlainDate(count.on)
  await tx.colonyCount.updateMany({
    where: { workspaceId, colonyId: colony.id, on, archivedAt: null },
    data: { archivedAt: new Date() },
  })
  await tx.colonyCount.createMany({
    data: lines.map(({ sex, moults, isAdult, animals }) => ({
      workspaceId,
      colonyId: colony.id,
      on,
      sex,
      moults,
      adult: isAdult,
      animals,
      countedBy: scope.personId,
    })),
  })
  return { value: { id: colony.id }, warnings: sayCount(colony, lines) }
}

type Lines = Parameters<typeof spanOf>[0]

/** @throws AppError invalid for a line that stands there twice, and for adults of a species without a profile */
function readLines({ lines }: NewColonyCount, profile: CareProfile | null): Lines {
  const seen = new Set<string>()
  return lines.map(({ sex, moults, adult, animals }, place) => {
    const key = `${sex} ${adult ? 'adult' : moults}`
    if (seen.has(key)) throw refuseField(`lines.${place}.sex`, 'This line stands there twice.')
    seen.add(key)
    invariant(profile, 'a colony is of a species with a care profile')
    return { sex, isAdult: adult, animals, moults: adult ? adultMoults(profile, sex) : (moults ?? 0) }
  })
}

function sayCount(colony: ColonyRow, lines: Lines): Warning[] {
  const span = spanOf(lines)
  const counted = lines.reduce((sum, { animals }) => sum + animals, 0)
  const together = colony.members.reduce((sum, member) => sum + member.together, 0)
  const warnings: Warning[] = []
  if (span && isTooWide(span))
    warnings.push({
      code: 'stages-apart',
      message: 'Recorded. More than one instar lies between them: part the smallest or the largest today.',
    })
  if (counted !== together)
    warnings.push({
      code: 'count-differs',
      message: `Recorded. By the head counts ${together} live here, you counted ${counted}. Record losses at the clutch you think they are of.`,
    })
  return warnings
}

/** The container goes to another zone, and everybody in it. */
export async function recordColonyMove(
  tx: Tx,
  { workspace }: Actor,
  move: MoveColony,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', move.on, today)
  const colony = await lockColony(tx, workspaceId, move.colony)
  if (colony.closedOn) throw new AppError('stale', 'This colony is closed.')
  if (move.zone === colony.zoneId) throw refuseField('zone', 'It is there already.')
  await requireOpenZone(tx, workspaceId, move.zone)
  const latest = colony.members.map(({ from }) => from).reduce(maxDate, colony.openedOn)
  if (move.on < latest) throw refuseField('on', `It has been there since ${writeDay(latest, today)}.`)
  const span = spanInside(colony)
  await tx.colony.update({
    where: { workspaceId_id: { workspaceId, id: colony.id } },
    data: { zoneId: move.zone, version: { increment: 1 } },
  })
  await tx.clutchHousing.updateMany({
    where: { workspaceId, colonyId: colony.id, untilOn: null },
    data: { untilOn: fromPlainDate(move.on) },
  })
  await tx.clutchHousing.createMany({
    data: colony.members.map((member) => ({
      workspaceId,
      clutchId: member.clutchId,
      zoneId: move.zone,
      containerId: colony.containerId,
      colonyId: colony.id,
      fromOn: fromPlainDate(move.on),
      leastMoults: span?.least ?? member.leastMoults,
      mostMoults: span?.most ?? member.mostMoults,
    })),
  })
  return { value: { id: colony.id }, warnings: [] }
}

/**
 * Closes a colony nobody lives in any more; its container is free.
 * @throws AppError invalid while a clutch is inside; stale
 */
export async function archiveColony(
  tx: Tx,
  { workspace }: Actor,
  closing: ArchiveColony,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', closing.on, today)
  const colony = await lockColony(tx, workspaceId, closing.colony)
  const inside = colony.members.filter(({ together }) => together > 0)
  if (inside.length > 0)
    throw new AppError(
      'invalid',
      `${inside.map(({ label, together }) => `${together} of ${label}`).join(', ')} live in it. Put them elsewhere first.`,
    )
  if (closing.on < colony.openedOn)
    throw refuseField('on', `The colony began on ${writeDay(colony.openedOn, today)}.`)
  const on = fromPlainDate(closing.on)
  const closed = await tx.colony.updateMany({
    where: { workspaceId, id: colony.id, version: closing.version, closedOn: null },
    data: { closedOn: on, version: { increment: 1 } },
  })
  if (closed.count === 0)
    throw new AppError('stale', 'Somebody changed this colony meanwhile.', {
      present: { version: colony.version },
    })
  await tx.clutchHousing.updateMany({
    where: { workspaceId, colonyId: colony.id, untilOn: null },
    data: { untilOn: on },
  })
  await tx.container.updateMany({
    where: { workspaceId, id: colony.containerId, emptiedOn: null },
    data: { emptiedOn: on },
  })
  return { value: { id: colony.id }, warnings: [] }
}

/** The colony with its container's row locked, so that whoever is put in meanwhile waits. */
async function lockColony(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ColonyRow> {
  await tx.$executeRaw`
    select 1 from container r join colony o on o.workspace_id = r.workspace_id and o.container_id = r.id
    where o.workspace_id = ${workspaceId}::uuid and o.id = ${id}::uuid for no key update of r`
  return requireColony(tx, workspaceId, id)
}
