import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { housingNeed } from '@/lib/domain/care-sheet/housing'
import { developmentClock, rateOn, thresholdsOf } from '@/lib/domain/development/clock'
import { fits } from '@/lib/domain/housing/fitting'
import { type ContainerChange, containerChanges, type GrowingAnimal } from '@/lib/domain/housing/move-up'
import { outlookOf } from '@/lib/domain/individual/outlook'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { historyOfZone } from '@/lib/domain/zone/history'
import type { ContainerKindRow } from '@/lib/features/container/data'
import type { ForecastGround } from '@/lib/features/egg-case/data'
import type { GrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, listIndividuals } from '@/lib/features/individual/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Warning } from '@/lib/platform/warned'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

const ANIMAL_LIMIT = 2000

/** A singly housed animal with what its container is judged by. */
export type HousedRow = {
  row: IndividualRow
  species: GrownSpecies
  growing: GrowingAnimal
  stage: string
}

type HousingGround = { kinds: readonly ContainerKindRow[]; ground: ForecastGround }

/** The animals in containers of their own, newest first. */
export function listHoused(tx: Tx, workspaceId: WorkspaceId): Promise<IndividualRow[]> {
  return listIndividuals(tx, workspaceId, { filter: { state: 'single' }, limit: ANIMAL_LIMIT })
}

/**
 * Those of them whose containers are of interest: those that can still outgrow theirs. A container that holds the
 * adult needs no forecast, which is most of the work.
 */
export function growingOf(
  rows: readonly IndividualRow[],
  { kinds, ground, workspace }: HousingGround & { workspace: Workspace },
): HousedRow[] {
  return rows.flatMap((row) => {
    const species = ground.species.get(row.speciesId)
    const profile = species?.profile
    const kindId = presentStay(row)?.kindId ?? null
    const kind = kinds.find(({ id }) => id === kindId)
    if (!species || !profile || row.baselineOn > ground.today) return []
    if (kind && fits(kind, housingNeed(profile, { sex: row.sex, moults: 0, isAdult: true }))) return []
    const { zones, today } = ground
    const { learned } = species
    const outlook = outlookOf(row, { profile, naming: instarNamingOf(workspace), zones, today, learned })
    const { moults, isAdult, nextMoult, softUntil, state, stage } = outlook
    const isInWindow = state === 'window' || state === 'overdue'
    const growing = {
      id: row.id,
      profile,
      sex: row.sex,
      moults,
      isAdult,
      nextMoult,
      softUntil,
      isInWindow,
      kindId,
    }
    return [{ row, species, growing, stage }]
  })
}

/** Which containers the animals will be moved into until a day, and out of. */
export function changesOf(
  animals: readonly HousedRow[],
  { kinds, ground, until }: HousingGround & { until: PlainDate },
): ContainerChange[] {
  const { zones, today } = ground
  const singles = kinds.filter(({ single }) => single)
  return animals.flatMap(({ row, growing }) => {
    const zone = zones.get(presentStay(row)?.zoneId ?? '')
    // Nobody said where it stands, or how warm that is: then nothing is known of its pace.
    const setPoints = zone?.setPoints ?? []
    const paceIn = () =>
      rateOn(developmentClock(historyOfZone(setPoints), thresholdsOf(growing.profile)), today)
    const effectiveDaysPerDay = setPoints.length > 0 ? paceIn() : 0
    return containerChanges(growing, singles, { today, until, effectiveDaysPerDay })
  })
}

/** A kind of container in a zone, as somebody chose it. */
export type ChosenPlace = { containerKind: string; zone: string }
export type Place = { kind: KindOfContainer; zoneId: string; warnings: Warning[] }
export type KindOfContainer = {
  id: string
  name: string
  single: boolean
  innerHeightMm: number
  innerWidthMm: number
}

/**
 * The place somebody chose for so many animals. Too few containers on the shelf is a warning, never a refusal: the
 * animals are in them already.
 * @throws AppError not-found for an unknown kind or zone, invalid for one out of use
 */
export async function requirePlace(
  tx: Tx,
  workspaceId: WorkspaceId,
  chosen: ChosenPlace & { animals: number },
): Promise<Place> {
  const { kind, warnings } = await requireKind(tx, workspaceId, chosen)
  await requireOpenZone(tx, workspaceId, chosen.zone)
  return { kind, zoneId: chosen.zone, warnings }
}

/** A kind of container that is in use, and a warning where too few of it are free. @throws AppError as above */
export async function requireKind(
  tx: Tx,
  workspaceId: WorkspaceId,
  chosen: { containerKind: string; animals: number },
): Promise<{ kind: KindOfContainer; warnings: Warning[] }> {
  const kind = await tx.containerKind.findUnique({
    where: { workspaceId_id: { workspaceId, id: chosen.containerKind } },
  })
  if (!kind) throw refuseUnknown('kind of container')
  if (kind.archivedAt) throw refuseField('containerKind', 'This kind of container is no longer in use.')
  const inUse = await tx.container.count({
    where: { workspaceId, containerKindId: kind.id, emptiedOn: null },
  })
  const free = kind.stock - inUse
  const warnings: Warning[] =
    free >= chosen.animals
      ? []
      : [{ code: 'no-free-container', message: sayShort(kind.name, Math.max(0, free)) }]
  const { id, name, single, innerHeightMm, innerWidthMm } = kind
  return { kind: { id, name, single, innerHeightMm, innerWidthMm }, warnings }
}

function sayShort(name: string, free: number): string {
  return `By the records only ${free} of “${name}” were free. Count them, or correct the stock.`
}

/** @throws AppError not-found, or invalid for a zone out of use */
export async function requireOpenZone(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<void> {
  const zone = await tx.zone.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: { archivedAt: true },
  })
  if (!zone) throw refuseUnknown('zone')
  if (zone.archivedAt) throw refuseField('zone', 'This zone is no longer in use.')
}

export type HousedAnimal = { id: string; label: string; stays: readonly OpenableStay[] }
type OpenableStay = { id: string; containerId: string; from: PlainDate; until: PlainDate | null }

/** The container an animal is in now. */
export function presentStay<S extends { until: PlainDate | null }>(animal: {
  stays: readonly S[]
}): S | undefined {
  return animal.stays.findLast((stay) => stay.until === null)
}

/**
 * Ends where animals are kept, on a day. Their containers are given free unless `keepsContainers`.
 * @throws AppError invalid when one came into its container only later
 */
export async function endStays(
  tx: Tx,
  workspaceId: WorkspaceId,
  end: { animals: readonly HousedAnimal[]; on: PlainDate; today: PlainDate; keepsContainers?: boolean },
): Promise<void> {
  const open = end.animals.flatMap((animal) => {
    const stay = presentStay(animal)
    if (stay && stay.from > end.on)
      throw refuseField(
        'on',
        `It came into its container on ${writeDay(stay.from, end.today)}, after this day.`,
      )
    return stay ? [stay] : []
  })
  if (open.length === 0) return
  await tx.housing.updateMany({
    where: { workspaceId, id: { in: open.map((stay) => stay.id) }, untilOn: null },
    data: { untilOn: fromPlainDate(end.on) },
  })
  if (end.keepsContainers) return
  await tx.container.updateMany({
    where: {
      workspaceId,
      id: { in: open.map((stay) => stay.containerId) },
      emptiedOn: null,
      housing: { none: { workspaceId, untilOn: null } },
    },
    data: { emptiedOn: fromPlainDate(end.on) },
  })
}

/** Puts each of the animals into a container of its own, taken from the shelf. */
export async function openStays(
  tx: Tx,
  workspaceId: WorkspaceId,
  start: { individualIds: readonly string[]; place: Place; on: PlainDate },
): Promise<void> {
  const { individualIds, place, on } = start
  const containers = await tx.container.createManyAndReturn({
    data: individualIds.map(() => ({
      workspaceId,
      containerKindId: place.kind.id,
      single: place.kind.single,
    })),
    select: { id: true },
  })
  await tx.housing.createMany({
    data: individualIds.map((individualId, index) => ({
      workspaceId,
      individualId,
      containerId: containers[index]?.id ?? '',
      single: place.kind.single,
      zoneId: place.zoneId,
      fromOn: fromPlainDate(on),
    })),
  })
}

/**
 * One container, locked, ready to be moved into; one that had been put away stands on the shelf again.
 * Whether another animal is in it is not asked here: the database refuses that by a rule of its own.
 * @throws AppError not-found
 */
export async function takeContainer(
  tx: Tx,
  workspaceId: WorkspaceId,
  { containerId, on }: { containerId: string; on: PlainDate },
): Promise<{ single: boolean }> {
  const rows = await tx.$queryRaw<{ single: boolean; emptiedOn: string | null }[]>`
    select single, emptied_on::text as "emptiedOn" from container
    where workspace_id = ${workspaceId}::uuid and id = ${containerId}::uuid for update`
  const container = rows[0]
  if (!container) throw refuseUnknown('container')
  if (container.emptiedOn && container.emptiedOn > on)
    throw refuseField('on', 'Another animal was still in that container on this day.')
  await tx.container.updateMany({ where: { workspaceId, id: containerId }, data: { emptiedOn: null } })
  return container
}

/**
 * Ends where siblings who are together are kept. A box they leave is given free; a colony's container never is, as
 * others live in it.
 */
export async function endClutchStay(
  tx: Tx,
  workspaceId: WorkspaceId,
  { clutchId, on, leavesContainer }: { clutchId: string; on: PlainDate; leavesContainer: boolean },
): Promise<void> {
  const until = fromPlainDate(on)
  const ended = await tx.clutchHousing.updateManyAndReturn({
    where: { workspaceId, clutchId, untilOn: null },
    data: { untilOn: until },
    select: { containerId: true, colonyId: true },
  })
  const left = ended.flatMap(({ containerId, colonyId }) => (containerId && !colonyId ? [containerId] : []))
  if (!leavesContainer || left.length === 0) return
  await tx.container.updateMany({
    where: { workspaceId, id: { in: left }, emptiedOn: null },
    data: { emptiedOn: until },
  })
}
