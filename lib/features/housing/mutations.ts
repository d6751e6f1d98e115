import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import {
  endStays,
  openStays,
  type Place,
  presentStay,
  requireOpenZone,
  requirePlace,
  takeContainer,
} from '@/lib/features/housing/data'
import type { Move, MoveForm } from '@/lib/features/housing/schema'
import { type IndividualRow, lockIndividuals, refuseAway } from '@/lib/features/individual/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Workspace } from '@/lib/platform/workspace'

/** One animal to another zone, a fresh container of a kind, or a container that stands there. */
export async function recordMove(
  tx: Tx,
  workspace: Workspace,
  move: Move & { individual: string },
): Promise<Warned<{ id: string }>> {
  const { individual, container, ...rest } = move
  if (!container) {
    const { warnings } = await recordMoves(tx, workspace, {
      individuals: [individual],
      on: rest.on,
      containerKind: rest.containerKind ?? 'same',
      zone: rest.zone ?? 'same',
    })
    return { value: { id: individual }, warnings }
  }
  const [animal] = await lockMovable(tx, workspace, { individuals: [individual], on: move.on })
  await moveInto(tx, workspace, { animal, containerId: container, move })
  return { value: { id: individual }, warnings: [] }
}

/** Into a container that stands there: the database has the last word on whether it is empty. */
async function moveInto(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { animal, containerId, move }: { animal: IndividualRow; containerId: string; move: Move },
): Promise<void> {
  const zoneId = move.zone ?? presentStay(animal)?.zoneId
  if (!zoneId) throw refuseField('zone', 'Choose the zone it stands in.')
  await requireOpenZone(tx, workspaceId, zoneId)
  const isOwn = presentStay(animal)?.containerId === containerId
  await endStays(tx, workspaceId, { animals: [animal], on: move.on, today, keepsContainers: isOwn })
  const container = await takeContainer(tx, workspaceId, { containerId, on: move.on })
  await tx.housing.create({
    data: {
      workspaceId,
      individualId: animal.id,
      containerId,
      single: container.single,
      zoneId,
      fromOn: fromPlainDate(move.on),
    },
  })
}

/** Several at once, each into a container of its own or with the one it has. */
export async function recordMoves(
  tx: Tx,
  workspace: Workspace,
  move: MoveForm,
): Promise<Warned<{ ids: string[] }>> {
  const { on, containerKind, zone } = move
  const animals = await lockMovable(tx, workspace, move)
  const warnings =
    containerKind === 'same'
      ? await carry(tx, workspace, { animals, on, zone })
      : await rehouse(tx, workspace, { animals, on, containerKind, zone })
  return { value: { ids: animals.map(({ id }) => id) }, warnings }
}

async function lockMovable(
  tx: Tx,
  { workspaceId, today }: Workspace,
  move: { individuals: string[]; on: string },
): Promise<[IndividualRow, ...IndividualRow[]]> {
  refuseFuture('on', move.on, today)
  const [first, ...others] = await lockIndividuals(tx, workspaceId, move.individuals)
  if (!first) throw new AppError('not-found', 'There is no such animal here.')
  for (const animal of [first, ...others]) {
    refuseAway(animal, today)
    if (move.on < animal.baselineOn)
      throw refuseField('on', `This day is before its record begins (${writeDay(animal.baselineOn, today)}).`)
  }
  return [first, ...others]
}

type Group = { animals: IndividualRow[]; on: string; zone: string }

/** The containers go along to the other zone. */
async function carry(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { animals, on, zone }: Group,
): Promise<Warning[]> {
  if (zone === 'same') throw refuseField('zone', 'Choose where it was moved.')
  await requireOpenZone(tx, workspaceId, zone)
  const moved = animals.filter((animal) => presentStay(animal)?.zoneId !== zone)
  for (const animal of moved)
    if (!presentStay(animal))
      throw refuseField('containerKind', `${formatCode(animal.label)} has no container yet: choose one.`)
  await endStays(tx, workspaceId, { animals: moved, on, today, keepsContainers: true })
  await tx.housing.createMany({
    data: moved.flatMap((animal) => {
      const stay = presentStay(animal)
      if (!stay) return []
      const { containerId, single } = stay
      return [
        {
          workspaceId,
          individualId: animal.id,
          containerId,
          single,
          zoneId: zone,
          fromOn: fromPlainDate(on),
        },
      ]
    }),
  })
  return []
}

async function rehouse(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { animals, on, containerKind, zone }: Group & { containerKind: string },
): Promise<Warning[]> {
  await endStays(tx, workspaceId, { animals, on, today })
  const warnings: Warning[] = []
  for (const [zoneId, ofZone] of groupByZone(animals, zone)) {
    const place: Place = await requirePlace(tx, workspaceId, {
      containerKind,
      zone: zoneId,
      animals: ofZone.length,
    })
    await openStays(tx, workspaceId, { individualIds: ofZone.map(({ id }) => id), place, on })
    warnings.push(...place.warnings)
  }
  return warnings
}

function groupByZone(animals: IndividualRow[], zone: string): Map<string, IndividualRow[]> {
  const groups = new Map<string, IndividualRow[]>()
  for (const animal of animals) {
    const zoneId = zone === 'same' ? presentStay(animal)?.zoneId : zone
    if (!zoneId) throw refuseField('zone', `${formatCode(animal.label)} stands in no zone yet: choose one.`)
    groups.set(zoneId, [...(groups.get(zoneId) ?? []), animal])
  }
  return groups
}
