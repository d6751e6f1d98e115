import { formatCode } from '@/lib/domain/label/code'
import { takeFromPayments } from '@/lib/domain/order/balance'
import { requireOpenBuyer } from '@/lib/features/buyer/data'
import { loadDispatchBook } from '@/lib/features/dispatch/data'
import { type IndividualRow, lockIndividuals, refuseAway } from '@/lib/features/individual/data'
import {
  balanceOfOrder,
  endAddress,
  loadOrdersOfAnimals,
  loadRecipient,
  lockOpenOrder,
  lockOrder,
  type OrderLineRow,
  type OrderRow,
  requireOrder,
  takeOrderOn,
} from '@/lib/features/order/data'
import type { Cancelling, ChooseAnimals, NewOrder, Split } from '@/lib/features/order/schema'
import { takeOrderBalance, takeOrderPayment } from '@/lib/features/order-payment/data'
import type { Unversioned } from '@/lib/features/order-payment/schema'
import { takeOrderStock } from '@/lib/features/order-stock/data'
import { requireSpecies } from '@/lib/features/species/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** Takes an order. The number is taken last, so that two people wait for each other as briefly as can be. */
export async function createOrder(tx: Tx, actor: Actor, order: NewOrder): Promise<Warned<{ id: string }>> {
  const { scope, workspace } = actor
  const { workspaceId, today } = workspace
  const orderedOn = order.orderedOn ?? today
  refuseFuture('orderedOn', orderedOn, today)
  refuseFuture('paidOn', order.paidOn, today)
  if (order.buyer) await requireOpenBuyer(tx, workspaceId, order.buyer)
  const speciesIds: string[] = []
  for (const { species } of order.lines) speciesIds.push((await requireSpecies(tx, workspaceId, species)).id)
  const { rules } = await loadDispatchBook(tx, workspaceId, { today })
  const made = await tx.customerOrder.create({
    data: {
      workspaceId,
      ...whereOf(order, rules.transitDays),
      orderedOn: fromPlainDate(orderedOn),
      claimHours: rules.claimHours,
      takenBy: scope.personId,
      number: await takeNumbers(tx, workspaceId, { name: 'order', count: 1 }),
    },
    select: { id: true },
  })
  await tx.orderLine.createMany({
    data: order.lines.map((line, index) => ({
      workspaceId,
      orderId: made.id,
      number: index + 1,
      speciesId: speciesIds[index] ?? '',
      sex: line.sex,
      takes: line.takes,
      fromMoults: line.fromMoults,
      untilMoults: line.untilMoults ?? null,
      count: line.count,
      priceMinor: line.price,
    })),
  })
  const { name = '', address = '', phone = '' } = order.recipient ?? {}
  await tx.orderAddress.create({ data: { workspaceId, orderId: made.id, name, address, phone } })
  if (order.individuals.length > 0) {
    const row = await lockOrder(tx, workspaceId, made.id)
    const choices = await placesFor(tx, workspaceId, { order: row, individuals: order.individuals })
    await choose(tx, workspace, { order: row, choices })
  }
  const warnings = await takeOrderStock(tx, workspace, { order: made.id, first: 1, lines: order.stock })
  await payNewOrder(tx, actor, { id: made.id, order })
  return { value: made, warnings }
}

/** What was paid with the order; `paidOn` alone says that it was all of it. */
async function payNewOrder(
  tx: Tx,
  actor: Actor,
  { id, order: { payments, paidOn } }: { id: string; order: NewOrder },
): Promise<void> {
  for (const [index, payment] of payments.entries())
    await takeOrderPayment(tx, actor, { order: id, payment, at: `payments.${index}.` })
  if (paidOn === undefined) return
  const { owedMinor } = balanceOfOrder(await requireOrder(tx, actor.workspace.workspaceId, id))
  if (owedMinor > 0)
    await takeOrderPayment(tx, actor, { order: id, payment: { kind: 'other', on: paidOn, note: '' } })
}

function whereOf(order: NewOrder, usualTransitDays: number) {
  const isSent = order.way === 'sent'
  return {
    way: order.way,
    notBefore: fromPlainDateOrNull(order.notBefore),
    beginner: order.isForBeginner,
    buyerId: order.buyer ?? null,
    country: order.country,
    area: order.area,
    transitDays: isSent ? (order.transitDays ?? usualTransitDays) : 0,
    depot: isSent && order.isCollectedAtDepot,
    awayOn: order.awayOn.map(fromPlainDate),
    language: order.language ?? '',
    note: order.note,
  }
}

type Choice = { line: number; individual: string }

/** Animals that were named with a new order: each fills a place of the first line of its kind. */
async function placesFor(
  tx: Tx,
  workspaceId: WorkspaceId,
  { order: { lines }, individuals }: { order: OrderRow; individuals: readonly string[] },
): Promise<Choice[]> {
  const animals = await lockIndividuals(tx, workspaceId, individuals)
  const left = new Map(lines.map(({ number, count }) => [number, count]))
  return animals.map((animal) => {
    const line = lines.find((one) => isOfLine(animal, one) && (left.get(one.number) ?? 0) > 0)
    if (!line)
      throw refuseField('individuals', `${formatCode(animal.label)} fits no line that still has a place.`)
    left.set(line.number, (left.get(line.number) ?? 0) - 1)
    return { line: line.number, individual: animal.id }
  })
}

function isOfLine({ speciesId, sex }: IndividualRow, line: OrderLineRow): boolean {
  return speciesId === line.speciesId && (line.sex === 'any' || line.sex === sex)
}

/**
 * Chooses who goes. Whoever was chosen and is not named any more is let go.
 * @throws AppError already-gone where one is not here or in another order; invalid for what does not fit
 */
export async function updateChosenAnimals(
  tx: Tx,
  workspace: Workspace,
  choice: Unversioned<ChooseAnimals>,
): Promise<Warned<{ id: string }>> {
  const order = await lockOpenOrder(tx, workspace.workspaceId, choice)
  const choices = choice.animals
  await choose(tx, workspace, { order, choices })
  await takeOrderOn(tx, workspace.workspaceId, { id: order.id, data: {} })
  return { value: { id: order.id }, warnings: [] }
}

async function choose(
  tx: Tx,
  workspace: Workspace,
  { order, choices }: { order: OrderRow; choices: readonly Choice[] },
): Promise<void> {
  const { workspaceId, today } = workspace
  refuseWrongPlaces(order, choices)
  const before = order.lines.flatMap(({ number, chosen }) =>
    chosen.map(({ id }) => ({ line: number, individual: id })),
  )
  const has = (list: readonly Choice[], one: Choice) =>
    list.some(({ line, individual }) => line === one.line && individual === one.individual)
  const leaving = before.filter((one) => !has(choices, one)).map(({ individual }) => individual)
  const coming = choices.filter((one) => !has(before, one))
  if (leaving.length > 0)
    await tx.orderAnimal.updateMany({
      where: { workspaceId, orderId: order.id, releasedOn: null, individualId: { in: leaving } },
      data: { releasedOn: fromPlainDate(today) },
    })
  if (coming.length === 0) return
  const animals = await lockIndividuals(
    tx,
    workspaceId,
    coming.map(({ individual }) => individual),
  )
  await refuseTaken(tx, workspace, animals)
  const known = new Map(order.lines.map((line) => [line.number, line]))
  for (const { line, individual } of coming) {
    const animal = animals.find(({ id }) => id === individual)
    const asked = known.get(line)
    if (animal && asked && !isOfLine(animal, asked))
      throw refuseField('animals', `${formatCode(animal.label)} is not what line ${line} asks for.`)
  }
  const on = fromPlainDate(today)
  await tx.orderAnimal.createMany({
    data: coming.map(({ line, individual }) => ({
      workspaceId,
      orderId: order.id,
      lineNumber: line,
      individualId: individual,
      chosenOn: on,
    })),
  })
}

function refuseWrongPlaces({ lines }: OrderRow, choices: readonly Choice[]): void {
  const seen = new Set(choices.map(({ individual }) => individual))
  if (seen.size < choices.length) throw refuseField('animals', 'An animal is named twice.')
  for (const { line } of choices)
    if (!lines.some(({ number }) => number === line))
      throw refuseField('animals', `There is no line ${line}.`)
  const full = lines.find(({ number, count }) => choices.filter(({ line }) => line === number).length > count)
  if (full) throw refuseField('animals', `Line ${full.number} asks for ${full.count} and no more.`)
}

/** The unique key holds in a race; before that, whoever is too late is told which order has it. */
async function refuseTaken(
  tx: Tx,
  { workspaceId, today }: Workspace,
  animals: readonly IndividualRow[],
): Promise<void> {
  for (const animal of animals) refuseAway(animal, today)
  const taken = await loadOrdersOfAnimals(
    tx,
    workspaceId,
    animals.map(({ id }) => id),
  )
  const first = animals.find(({ id }) => taken.has(id))
  if (!first) return
  const number = taken.get(first.id)
  throw new AppError('already-gone', `${formatCode(first.label)} is chosen for order ${number}.`, {
    present: { individual: first.id, order: number },
  })
}

/** Takes an order back before it has left: its animals are free again, and its address is forgotten at once. */
export async function endOrder(
  tx: Tx,
  workspace: Workspace,
  cancelling: Unversioned<Cancelling>,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  const order = await lockOpenOrder(tx, workspace.workspaceId, cancelling)
  const on = fromPlainDate(today)
  await tx.orderAnimal.updateMany({
    where: { workspaceId, orderId: order.id, releasedOn: null },
    data: { releasedOn: on },
  })
  await tx.orderStockLine.updateMany({
    where: { workspaceId, orderId: order.id, removedOn: null },
    data: { removedOn: on },
  })
  await takeOrderOn(tx, workspaceId, {
    id: order.id,
    data: { cancelledOn: on, cancelReason: cancelling.reason },
  })
  await endAddress(tx, workspaceId, order.id)
  return { value: { id: order.id }, warnings: [] }
}

/** Moves the animals that have to stay into an order of their own; what is left can go. */
export async function createSplitOrder(
  tx: Tx,
  actor: Actor,
  { staying, ...versioned }: Split,
): Promise<Warned<{ id: string }>> {
  const { workspace } = actor
  const { workspaceId } = workspace
  const order = await lockOpenOrder(tx, workspace.workspaceId, versioned)
  const isStaying = new Set(staying)
  const parts = order.lines.map((line) => ({
    line,
    stays: line.chosen.filter(({ id }) => isStaying.has(id)),
    goes: line.chosen.filter(({ id }) => !isStaying.has(id)),
  }))
  const moved = parts.flatMap(({ stays }) => stays)
  if (moved.length < isStaying.size) throw refuseField('staying', 'One of them is not in this order.')
  if (order.stock.length === 0 && parts.every(({ goes }) => goes.length === 0))
    throw refuseField('staying', 'Then nothing would be left to go.')
  const { id: orderId } = await copyOrder(tx, actor, order)
  const day = fromPlainDate(workspace.today)
  await tx.orderAnimal.updateMany({
    where: { workspaceId, orderId: order.id, releasedOn: null, individualId: { in: staying } },
    data: { releasedOn: day },
  })
  const rest = parts.filter(({ line, goes }) => line.count > goes.length)
  await tx.orderLine.createMany({
    data: rest.map(({ line, goes }) => ({
      ...lineOf(line, workspaceId),
      orderId,
      count: line.count - goes.length,
    })),
  })
  await tx.orderAnimal.createMany({
    data: parts.flatMap(({ line, stays }) =>
      stays.map(({ id }) => ({
        workspaceId,
        orderId,
        lineNumber: line.number,
        individualId: id,
        chosenOn: day,
      })),
    ),
  })
  for (const { line, goes } of rest)
    await tx.orderLine.updateMany({
      where: { workspaceId, orderId: order.id, number: line.number },
      data: { count: goes.length },
    })
  await moveWhatIsOver(tx, actor, { from: order.id, to: orderId })
  return { value: { id: orderId }, warnings: [] }
}

/** What was paid for places that stay is paid for the new order: it goes back here and is paid there. */
async function moveWhatIsOver(
  tx: Tx,
  { scope, workspace }: Actor,
  { from, to }: { from: string; to: string },
): Promise<void> {
  const { workspaceId, today } = workspace
  const order = await requireOrder(tx, workspaceId, from)
  const rest = await requireOrder(tx, workspaceId, to)
  const { overMinor } = balanceOfOrder(order)
  const payments = order.payments.filter(({ reverses }) => reverses === null)
  const moved = takeFromPayments(payments, overMinor)
  const common = { workspaceId, takenBy: scope.personId }
  for (const [index, { number, amountMinor }] of moved.entries()) {
    const paid = payments.find((payment) => payment.number === number)
    const kind = paid?.kind ?? 'other'
    await tx.orderPayment.create({
      data: {
        ...{ ...common, kind, amountMinor, orderId: from, reverses: number },
        number: order.payments.length + 1 + index,
        on: fromPlainDate(today),
        note: `for order ${rest.number}`,
      },
    })
    await tx.orderPayment.create({
      data: {
        ...{ ...common, kind, amountMinor, orderId: to },
        number: index + 1,
        on: fromPlainDate(paid?.on ?? today),
        note: `from order ${order.number}`,
      },
    })
  }
  await takeOrderBalance(tx, workspaceId, from)
  await takeOrderBalance(tx, workspaceId, to)
}

/** An order of its own for the same person and place, without lines. */
async function copyOrder(tx: Tx, { scope, workspace }: Actor, order: OrderRow): Promise<{ id: string }> {
  const { workspaceId } = workspace
  const { country, area, transitDays, claimHours, language, note, buyerId, way } = order
  const { name, address, phone } = await loadRecipient(tx, workspaceId, order.id)
  const made = await tx.customerOrder.create({
    data: {
      ...{ workspaceId, country, area, transitDays, claimHours, language, buyerId, way },
      depot: order.isDepot,
      beginner: order.isForBeginner,
      awayOn: order.awayOn.map(fromPlainDate),
      orderedOn: fromPlainDate(order.orderedOn),
      note: [`The rest of order ${order.number}.`, note].filter(Boolean).join(' '),
      takenBy: scope.personId,
      number: await takeNumbers(tx, workspaceId, { name: 'order', count: 1 }),
    },
    select: { id: true },
  })
  await tx.orderAddress.create({ data: { workspaceId, orderId: made.id, name, address, phone } })
  return made
}

function lineOf(line: OrderLineRow, workspaceId: WorkspaceId) {
  const { number, speciesId, sex, takes, fromMoults, untilMoults, priceMinor } = line
  return { workspaceId, number, speciesId, sex, takes, fromMoults, untilMoults, priceMinor }
}

/** Empties where a box went. Nothing happens to an order that is still open. */
export async function endOrderAddress(tx: Tx, workspaceId: WorkspaceId, orderId: string): Promise<void> {
  const order = await lockOrder(tx, workspaceId, orderId)
  if (order.leftOn === null && order.cancelledOn === null) return
  await endAddress(tx, workspaceId, orderId)
}
