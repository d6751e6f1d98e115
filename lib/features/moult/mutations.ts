import { addDays, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { listMoultMistakes, type MoultMistake } from '@/lib/domain/individual/moult-check'
import { type GrowthRecord, lastMoultOn, moultsOf } from '@/lib/domain/individual/record'
import { ROUND_SEEN_WITHIN_DAYS, SEEN_WITHIN_DAYS, seenSince } from '@/lib/domain/individual/seen-since'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { formatCode } from '@/lib/domain/label/code'
import {
  type IndividualRow,
  lockIndividual,
  lockIndividuals,
  requireIndividuals,
} from '@/lib/features/individual/data'
import { listEarlyBuds, listLookDays, openLooks, refuseWinged } from '@/lib/features/look/data'
import {
  type ArchiveMoult,
  type ArchiveRound,
  type ConfirmMoultDay,
  type MoultAnswer,
  type RoundShelf,
  type RoundShelfAnswer,
  readSkins,
  type SentMoult,
  type UpdateMoultDay,
} from '@/lib/features/moult/schema'
import { loadProfiles } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull, toPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace } from '@/lib/platform/workspace'

type LookDays = ReadonlyMap<string, readonly PlainDate[]>
type Checked = { animal: IndividualRow; number: number; on: string; seenFrom: string | null; sent: SentMoult }

/**
 * Records moults of one or of many animals, all or none. Several of one animal in one call count in the order given.
 * @throws AppError invalid with one message per wrong field; already-gone for an animal that had left by then
 */
export async function recordMoults(
  tx: Tx,
  workspace: Workspace,
  sent: readonly SentMoult[],
): Promise<Warned<MoultAnswer[]>> {
  const { workspaceId } = workspace
  const animals = await lockIndividuals(
    tx,
    workspaceId,
    sent.map(({ individual }) => individual),
  )
  const lookDays = await loadLookDays(tx, workspace, sent)
  const checked = checkMoults(animals, sent, { today: workspace.today, lookDays })
  const made = await tx.moult.createManyAndReturn({
    data: checked.map(({ animal, number, on, seenFrom, sent: { outcome, final, note } }) => ({
      workspaceId,
      individualId: animal.id,
      number,
      on: fromPlainDate(on),
      seenFrom: fromPlainDateOrNull(seenFrom),
      outcome,
      final,
      note,
    })),
    select: { id: true, individualId: true, number: true },
  })
  await markAdults(tx, workspace, checked)
  const idOf = new Map(made.map(({ id, individualId, number }) => [`${individualId} ${number}`, id]))
  return {
    value: checked.map((moult) => answer(moult, idOf.get(`${moult.animal.id} ${moult.number}`) ?? '')),
    warnings: checked.flatMap(moultWarnings),
  }
}

/** The days before the moults on which somebody looked: where no span is typed, it begins with the last of them. */
function loadLookDays(
  tx: Tx,
  { workspaceId, today }: Workspace,
  sent: readonly SentMoult[],
): Promise<LookDays> {
  const unspanned = sent.filter(({ seenBetween }) => !seenBetween)
  const earliest = unspanned.map((moult) =>
    addDays(moult.on ?? today, -(moult.seenWithinDays ?? SEEN_WITHIN_DAYS)),
  )
  const individualIds = unspanned.map(({ individual }) => individual)
  return listLookDays(tx, workspaceId, { individualIds, since: earliest.reduce(minDate, today) })
}

function checkMoults(
  animals: readonly IndividualRow[],
  sent: readonly SentMoult[],
  { today, lookDays }: { today: PlainDate; lookDays: LookDays },
): Checked[] {
  const byId = new Map<string, IndividualRow>(animals.map((animal) => [animal.id, animal]))
  const mistakes: MoultMistake[] = []
  const checked = sent.map((moult): Checked => {
    const animal = byId.get(moult.individual)
    if (!animal) throw refuseUnknown('animal')
    const on = moult.on ?? moult.seenBetween?.until ?? today
    const seenFrom =
      moult.seenBetween?.from ??
      seenSince(on, {
        lookDays: lookDays.get(animal.id) ?? [],
        lastMoultOn: lastMoultOn(animal) ?? animal.hatchedOn,
        withinDays: moult.seenWithinDays ?? SEEN_WITHIN_DAYS,
      })
    const leftOn = animal.whereabouts === 'single' ? null : animal.whereaboutsSince
    const found = listMoultMistakes(animal, { on, seenFrom }, { today, leftOn })
    if (found.length > 0 && leftOn && on > leftOn)
      throw new AppError('already-gone', whereaboutsSentence(animal, today))
    for (const { path, message } of found) mistakes.push(placed(moult, animal, { path, message }))
    const number = moultsOf(animal) + 1
    const next = { number, on, seenFrom, outcome: moult.outcome, final: moult.final }
    byId.set(animal.id, withMoult(animal, next))
    return { animal, number, on, seenFrom, sent: moult }
  })
  if (mistakes.length > 0)
    throw new AppError('invalid', 'Some entries need another look.', { fields: mistakes })
  return checked
}

/** Said at the field that was filled in; where one day was typed for several animals, with the animal's name. */
function placed(
  { at, spanField, isOneOfMany }: SentMoult,
  animal: IndividualRow,
  { path, message }: MoultMistake,
): MoultMistake {
  const field = path === 'seenBetween' ? spanField : path
  return { path: `${at}${field}`, message: isOneOfMany ? `${formatCode(animal.label)}: ${message}` : message }
}

function withMoult(animal: IndividualRow, moult: GrowthRecord['moults'][number]): IndividualRow {
  return {
    ...animal,
    moults: [...animal.moults, { ...moult, id: '', note: '', version: 0 }],
    adultSinceOn: moult.final ? moult.on : animal.adultSinceOn,
  }
}

async function markAdults(tx: Tx, { workspaceId }: Workspace, checked: readonly Checked[]): Promise<void> {
  const days = new Map<string, string[]>()
  for (const { animal, on, sent } of checked)
    if (sent.final) days.set(on, [...(days.get(on) ?? []), animal.id])
  for (const [on, ids] of days) {
    await tx.individual.updateMany({
      where: { workspaceId, id: { in: ids } },
      data: { adultSinceOn: fromPlainDate(on), version: { increment: 1 } },
    })
  }
}

function moultWarnings({ animal, sent }: Checked): Warning[] {
  if (sent.outcome === 'good') return []
  const message =
    sent.outcome === 'bad'
      ? `${formatCode(animal.label)}: a bad moult. If it cannot hang or eat, look at it again tomorrow before deciding.`
      : `${formatCode(animal.label)}: a lost limb grows back over one or two moults, but not after the last one.`
  return [{ code: sent.outcome === 'bad' ? 'bad-moult' : 'lost-limb', message }]
}

function answer({ animal, number, on, seenFrom, sent }: Checked, id: string): MoultAnswer {
  const { outcome, final } = sent
  const seenBetween = seenFrom ? { from: seenFrom, until: on } : null
  return { id, individual: animal.id, number, on, seenBetween, outcome, final }
}

/**
 * Takes the last moult back. Only the last: an earlier one is corrected by taking back what follows it first.
 * @throws AppError stale when it is not the last, or was taken back or changed meanwhile
 */
export async function archiveMoult(
  tx: Tx,
  { workspaceId }: Workspace,
  { moult, version }: ArchiveMoult,
): Promise<{ individual: string }> {
  const row = await tx.moult.findUnique({ where: { workspaceId_id: { workspaceId, id: moult } } })
  if (!row) throw refuseUnknown('moult')
  const [animal] = await lockIndividuals(tx, workspaceId, [row.individualId])
  const last = animal?.moults.at(-1)
  if (last?.id !== moult)
    throw new AppError(
      'stale',
      'Only the last moult can be taken back, and this is not the last one any more.',
    )
  const changed = await tx.moult.updateMany({
    where: { workspaceId, id: moult, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'This moult was changed meanwhile.')
  if (last.final)
    await tx.individual.updateMany({
      where: { workspaceId, id: row.individualId },
      data: { adultSinceOn: null, version: { increment: 1 } },
    })
  return { individual: row.individualId }
}

export type ChangedDay = { version: number; before: { on: string; seenFrom: string | null } }

/**
 * Another day for a moult on record, between those before and after it. What it was before is given back, to undo it.
 * @throws AppError invalid for a day that cannot be; stale when it was changed or taken back meanwhile
 */
export async function updateMoultDay(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { moult, version, on, seenFrom: seenBefore }: UpdateMoultDay,
): Promise<ChangedDay> {
  const seenFrom = seenBefore ?? null
  const row = await tx.moult.findUnique({ where: { workspaceId_id: { workspaceId, id: moult } } })
  if (!row) throw refuseUnknown('moult')
  const animal = await lockIndividual(tx, workspaceId, row.individualId)
  refuseMisplaced(animal, { number: row.number, on, seenFrom, today })
  const changed = await tx.moult.updateMany({
    where: { workspaceId, id: moult, version, archivedAt: null },
    data: {
      on: fromPlainDate(on),
      seenFrom: fromPlainDateOrNull(seenFrom),
      confirmedAt: null,
      version: { increment: 1 },
    },
  })
  if (changed.count === 0) throw new AppError('stale', 'This moult was changed meanwhile.')
  if (row.final)
    await tx.individual.updateMany({
      where: { workspaceId, id: animal.id },
      data: { adultSinceOn: fromPlainDate(on), version: { increment: 1 } },
    })
  const before = { on: toPlainDate(row.on), seenFrom: row.seenFrom && toPlainDate(row.seenFrom) }
  return { version: version + 1, before }
}

type NewDay = { number: number; on: string; seenFrom: string | null; today: PlainDate }

/** Seen as if it and what follows were still to come; and before what follows. */
function refuseMisplaced(animal: IndividualRow, { number, on, seenFrom, today }: NewDay): void {
  const moults = animal.moults.filter((moult) => moult.number < number)
  const record = { ...animal, moults, adultSinceOn: null }
  const leftOn = animal.whereabouts === 'single' ? null : animal.whereaboutsSince
  const [mistake] = listMoultMistakes(record, { on, seenFrom }, { today, leftOn })
  if (mistake) throw refuseField('on', mistake.message)
  const next = animal.moults.find((moult) => moult.number > number)
  if (next && on >= (next.seenFrom ?? next.on))
    throw refuseField('on', `Its next moult is on record for ${writeDay(next.on, today)}.`)
}

/**
 * Says that a date which looks wrong is right, or takes that back: it is no more pointed out.
 * @throws AppError stale when it was changed or taken back meanwhile
 */
export async function updateMoultConfirmed(
  tx: Tx,
  { workspaceId }: Workspace,
  { moult, version, isRight }: ConfirmMoultDay,
): Promise<{ version: number }> {
  const row = await tx.moult.findUnique({ where: { workspaceId_id: { workspaceId, id: moult } } })
  if (!row) throw refuseUnknown('moult')
  const changed = await tx.moult.updateMany({
    where: { workspaceId, id: moult, version, archivedAt: null },
    data: { confirmedAt: isRight ? new Date() : null, version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'This moult was changed meanwhile.')
  return { version: version + 1 }
}

/**
 * One shelf of a moult round: skins become moults, every other cup passed becomes a look, all or none. An animal that
 * somebody else sold or moved away meanwhile was not there to be passed: it is left out, and named.
 */
export async function recordRoundShelf(
  tx: Tx,
  actor: Actor,
  shelf: RoundShelf,
): Promise<Warned<RoundShelfAnswer>> {
  const { scope, workspace } = actor
  const { workspaceId, today } = workspace
  const { round, on } = shelf
  refuseFuture('on', on, today)
  await openRound(tx, actor, shelf)
  const skins = readSkins(shelf, ROUND_SEEN_WITHIN_DAYS)
  const moulted = skins.length > 0 ? await recordMoults(tx, workspace, skins) : { value: [], warnings: [] }
  const withSkin = new Set(skins.map(({ individual }) => individual))
  const passed = [...new Set(shelf.passed)].filter((id) => !withSkin.has(id))
  const animals = await requireIndividuals(tx, workspaceId, passed)
  const seen = animals.filter((animal) => wasThere(animal, on))
  const signs = signsByAnimal(shelf)
  const budding = seen.filter(({ id }) => signs.get(id)?.wingBuds)
  for (const animal of budding) refuseWinged(animal, { on, today })
  await openLooks(
    tx,
    workspaceId,
    seen.map(({ id }) => ({ id, on, round, by: scope.personId, ...signs.get(id) })),
  )
  await tx.look.createMany({
    data: moulted.value.map(({ id, individual }) => ({
      workspaceId,
      on: fromPlainDate(on),
      moultRoundId: round,
      lookedBy: scope.personId,
      individualId: individual,
      moultId: id,
    })),
  })
  const profiles =
    budding.length === 0
      ? new Map()
      : await loadProfiles(
          tx,
          workspaceId,
          budding.map(({ speciesId }) => speciesId),
        )
  return {
    value: { round, looks: seen.length + moulted.value.length, moults: moulted.value.length },
    warnings: [
      ...moulted.warnings,
      ...listEarlyBuds(budding, { profiles, on }),
      ...animals.filter((animal) => !wasThere(animal, on)).map(notThere),
    ],
  }

  function notThere(animal: IndividualRow): Warning {
    const message =
      on < animal.baselineOn
        ? `${formatCode(animal.label)} had no cup of its own then, and was not counted as seen.`
        : `${whereaboutsSentence(animal, today)} It was not counted as seen.`
    return { code: 'not-there', message }
  }
}

/** What each cup showed; of a cup with a skin nothing counts but that. */
function signsByAnimal({ signs }: RoundShelf): Map<string, { wingBuds: boolean; refusesFood: boolean }> {
  const found = new Map<string, { wingBuds: boolean; refusesFood: boolean }>()
  for (const { individual, sign } of signs) {
    const before = found.get(individual) ?? { wingBuds: false, refusesFood: false }
    const wingBuds = before.wingBuds || sign === 'wing_buds'
    const refusesFood = before.refusesFood || sign === 'refuses_food'
    found.set(individual, { wingBuds, refusesFood })
  }
  return found
}

function wasThere({ baselineOn, whereabouts, whereaboutsSince }: IndividualRow, on: PlainDate): boolean {
  return baselineOn <= on && (whereabouts === 'single' || whereaboutsSince === null || on <= whereaboutsSince)
}

/** The device names the round, so that its first shelf may arrive twice, or after its second. */
async function openRound(
  tx: Tx,
  { scope, workspace }: Actor,
  { round, on, isLast }: RoundShelf,
): Promise<void> {
  const { workspaceId } = workspace
  await tx.moultRound.createMany({
    data: [{ workspaceId, id: round, on: fromPlainDate(on), walkedBy: scope.personId }],
    skipDuplicates: true,
  })
  const known = await tx.moultRound.findUniqueOrThrow({
    where: { workspaceId_id: { workspaceId, id: round } },
    select: { on: true, archivedAt: true },
  })
  if (known.archivedAt) throw new AppError('stale', 'This round was taken back. Begin a new one.')
  if (toPlainDate(known.on) !== on)
    throw refuseField('on', `This round was begun on ${toPlainDate(known.on)}.`)
  if (isLast)
    await tx.moultRound.updateMany({
      where: { workspaceId, id: round, finishedAt: null },
      data: { finishedAt: new Date(), version: { increment: 1 } },
    })
}

/**
 * Takes a whole round back: its looks and its moults, as if nobody had walked.
 * @throws AppError stale when something was recorded since that rests on one of its moults
 */
export async function archiveMoultRound(
  tx: Tx,
  { workspace }: Actor,
  { round }: ArchiveRound,
): Promise<{ round: string }> {
  const { workspaceId } = workspace
  const known = await tx.moultRound.findUnique({ where: { workspaceId_id: { workspaceId, id: round } } })
  if (!known) throw refuseUnknown('moult round')
  const taken = await tx.moultRound.updateMany({
    where: { workspaceId, id: round, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (taken.count === 0) throw new AppError('already-reversed', 'This round was already taken back.')
  const moults = await tx.moult.findMany({
    where: { workspaceId, archivedAt: null, looks: { some: { workspaceId, moultRoundId: round } } },
    select: { id: true, version: true },
    orderBy: { id: 'asc' },
  })
  for (const { id, version } of moults) await archiveMoult(tx, workspace, { moult: id, version })
  await tx.look.updateMany({
    where: { workspaceId, moultRoundId: round, archivedAt: null },
    data: { archivedAt: new Date() },
  })
  return { round }
}
