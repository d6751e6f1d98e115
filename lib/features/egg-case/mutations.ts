import { compareDates, maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { clutchCode, eggCaseCode, parseCode } from '@/lib/domain/label/code'
import {
  type EggCaseRow,
  firstDayOfEggCase,
  requireEggCase,
  zoneOfEggCase,
} from '@/lib/features/egg-case/data'
import type {
  ColdRestInput,
  EggCaseEnding,
  EggCaseMove,
  EggCaseRest,
  NewEggCase,
  NewHatch,
} from '@/lib/features/egg-case/schema'
import { takePapers } from '@/lib/features/paper/data'
import { requireSpecies } from '@/lib/features/species/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseField } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * Records an egg case and its first stay.
 * @throws AppError invalid for a day in the future, an unknown mother or one of another species
 */
export async function createEggCase(tx: Tx, actor: Actor, typed: NewEggCase): Promise<{ id: string }> {
  const { workspace } = actor
  const { workspaceId, today } = workspace
  refuseWrongDays(typed, today)
  const species = await requireSpecies(tx, workspaceId, typed.species)
  const motherId = typed.mother
    ? await requireMother(tx, workspace, { typed: typed.mother, speciesId: species.id })
    : null
  if (typed.colony) await requireColonyOf(tx, workspaceId, { colonyId: typed.colony, speciesId: species.id })
  const number = await takeNumbers(tx, workspaceId, { name: 'egg-case', count: 1 })
  const made = await tx.eggCase.create({
    data: {
      workspaceId,
      label: eggCaseCode(number),
      speciesId: species.id,
      laidOn: fromPlainDateOrNull(typed.laidOn),
      laidFrom: fromPlainDateOrNull(typed.laidBetween?.from),
      laidUntil: fromPlainDateOrNull(typed.laidBetween?.until),
      receivedOn: fromPlainDateOrNull(typed.receivedOn),
      motherId,
      colonyId: typed.colony ?? null,
      supplier: typed.supplier,
      lot: typed.lot,
      notes: typed.notes,
      ...restColumns(typed.rest),
    },
    select: { id: true },
  })
  const from = typed.receivedOn ?? typed.laidOn ?? typed.laidBetween?.from
  invariant(from, 'an egg case has a day')
  await tx.eggCaseStay.create({
    data: { workspaceId, eggCaseId: made.id, fromOn: fromPlainDate(from), zoneId: typed.zone },
  })
  await takePapers(tx, actor, { of: [{ eggCaseId: made.id }], papers: typed.papers })
  return made
}

function refuseWrongDays(typed: NewEggCase, today: PlainDate): void {
  const { laidOn, laidBetween, receivedOn } = typed
  if (laidOn && laidBetween)
    throw refuseField('laidBetween', 'Give the day it was laid, or two days, not both.')
  if (!laidOn && !laidBetween && !receivedOn)
    throw refuseField('laidOn', 'Say when it was laid, or the day it was received.')
  refuseFuture('laidOn', laidOn, today)
  refuseFuture('laidBetween.from', laidBetween?.from, today)
  refuseFuture('laidBetween.until', laidBetween?.until, today)
  refuseFuture('receivedOn', receivedOn, today)
  if (laidBetween && laidBetween.until < laidBetween.from)
    throw refuseField('laidBetween.until', 'This is before the first day.')
  const laid = laidOn ?? laidBetween?.from
  if (receivedOn && laid && receivedOn < laid) throw refuseField('receivedOn', 'This is before it was laid.')
  if (typed.rest) refuseWrongRest(typed.rest, { first: laid ?? null, today, path: 'rest.' })
}

function refuseWrongRest(
  rest: ColdRestInput,
  around: { first: PlainDate | null; today: PlainDate; path: string },
): void {
  const { first, today, path } = around
  refuseFuture(`${path}startOn`, rest.startOn, today)
  refuseFuture(`${path}endedOn`, rest.endedOn, today)
  if (first && rest.startOn < first) throw refuseField(`${path}startOn`, 'This is before it was laid.')
  if (rest.plannedEndOn && rest.plannedEndOn < rest.startOn)
    throw refuseField(`${path}plannedEndOn`, 'This is before the rest began.')
  if (rest.endedOn && rest.endedOn < rest.startOn)
    throw refuseField(`${path}endedOn`, 'This is before the rest began.')
}

const restColumns = (rest: ColdRestInput | undefined) => ({
  restStartOn: fromPlainDateOrNull(rest?.startOn),
  restPlannedEndOn: fromPlainDateOrNull(rest?.plannedEndOn),
  restEndedOn: fromPlainDateOrNull(rest?.endedOn),
})

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i

/** The mother by her id or by what stands on her label. */
async function requireMother(
  tx: Tx,
  { workspaceId }: Workspace,
  asked: { typed: string; speciesId: string },
): Promise<string> {
  const parsed = parseCode(asked.typed)
  const where = UUID.test(asked.typed)
    ? { id: asked.typed }
    : { label: parsed.status === 'ok' ? parsed.code : asked.typed }
  const mother = await tx.individual.findFirst({
    where: { workspaceId, ...where },
    select: { id: true, speciesId: true, sex: true },
  })
  if (!mother) throw refuseField('mother', 'There is no such animal here.')
  if (mother.speciesId !== asked.speciesId) throw refuseField('mother', 'This animal is of another species.')
  if (mother.sex === 'male') throw refuseField('mother', 'This animal is a male.')
  return mother.id
}

/** @throws AppError invalid for a colony that is not here, or of another species */
async function requireColonyOf(
  tx: Tx,
  workspaceId: WorkspaceId,
  asked: { colonyId: string; speciesId: string },
): Promise<void> {
  const colony = await tx.colony.findUnique({
    where: { workspaceId_id: { workspaceId, id: asked.colonyId } },
    select: { speciesId: true },
  })
  if (!colony) throw refuseField('colony', 'There is no such colony here.')
  if (colony.speciesId !== asked.speciesId) throw refuseField('colony', 'This colony is of another species.')
}

export type RecordedHatch = { clutchId: string; hatchId: string; on: PlainDate; count: number }

/**
 * Records one day's hatch: a new clutch, or more animals for one that is there already.
 * @throws AppError invalid for a day in the future or before the egg case was there; for a clutch of other parents
 */
export async function recordHatch(
  tx: Tx,
  { scope, workspace }: Actor,
  asked: NewHatch & { eggCase: string; isNewClutch?: boolean },
): Promise<Warned<RecordedHatch>> {
  const { workspaceId } = workspace
  await tx.$executeRaw`
    select 1 from egg_case where workspace_id = ${workspaceId}::uuid and id = ${asked.eggCase}::uuid for update`
  const eggCase = await requireEggCase(tx, workspaceId, asked.eggCase)
  refuseFuture('on', asked.on, workspace.today)
  const first = firstDayOfEggCase(eggCase)
  if (first && asked.on < first) throw refuseField('on', `${eggCase.label} was not there before ${first}.`)
  const likely = asked.count ?? asked.about?.likely
  invariant(likely, 'a hatch has a count')
  const clutchId = await joinClutch(tx, { scope, workspace }, { ...asked, eggCase, likely })
  const hatch = await tx.hatch.create({
    data: {
      workspaceId,
      eggCaseId: eggCase.id,
      clutchId,
      on: fromPlainDate(asked.on),
      likely,
      low: asked.about?.low ?? null,
      high: asked.about?.high ?? null,
    },
    select: { id: true },
  })
  await tx.headCountEntry.create({
    data: {
      workspaceId,
      clutchId,
      from: 'uncounted',
      to: 'together',
      count: likely,
      on: fromPlainDate(asked.on),
      note: `hatched from ${eggCase.label}`,
      recordedBy: scope.personId,
    },
  })
  return {
    value: { clutchId, hatchId: hatch.id, on: asked.on, count: likely },
    warnings: hatchWarnings(eggCase, asked.on),
  }
}

function hatchWarnings(eggCase: EggCaseRow, on: PlainDate): Warning[] {
  if (!eggCase.endedOn || on < eggCase.endedOn) return []
  const message = `${eggCase.label} had been ended on ${eggCase.endedOn}. The hatch is recorded all the same.`
  return [{ code: 'egg-case-ended', message }]
}

type JoiningHatch = Omit<NewHatch, 'count'> & { eggCase: EggCaseRow; likely: number; isNewClutch?: boolean }

/** Later hatches of one egg case are siblings: up to this long after its last one they go to the same clutch. */
const SAME_CLUTCH_DAYS = 14
const DAY_MS = 86_400_000

function previousClutch({ eggCase, on, isNewClutch }: JoiningHatch): string | undefined {
  const last = eggCase.hatches.toSorted((a, b) => compareDates(a.on, b.on)).at(-1)
  if (!last || isNewClutch) return undefined
  const apart = Math.abs(Date.parse(on) - Date.parse(last.on)) / DAY_MS
  return apart <= SAME_CLUTCH_DAYS ? last.clutchId : undefined
}

async function joinClutch(tx: Tx, recording: Actor, hatch: JoiningHatch): Promise<string> {
  const clutchId = hatch.clutch ?? previousClutch(hatch)
  if (!clutchId) return createClutch(tx, recording, hatch)
  const { workspaceId } = recording.workspace
  await tx.$executeRaw`
    select 1 from clutch where workspace_id = ${workspaceId}::uuid and id = ${clutchId}::uuid for update`
  const clutch = await tx.clutch.findUnique({
    where: { workspaceId_id: { workspaceId, id: clutchId } },
    include: { hatches: { select: { likely: true, eggCase: { select: { id: true, motherId: true } } } } },
  })
  if (!clutch) throw refuseField('clutch', 'There is no such clutch here.')
  const isSibling = ({ eggCase }: (typeof clutch.hatches)[number]) =>
    eggCase.id === hatch.eggCase.id ||
    (hatch.eggCase.motherId !== null && eggCase.motherId === hatch.eggCase.motherId)
  if (!clutch.hatches.every(isSibling))
    throw refuseField('clutch', 'Only egg cases of one mother make one clutch.')
  const known = clutch.hatches.reduce((sum, { likely }) => sum + likely, 0)
  const isCounted = clutch.counted && !hatch.about
  const low = (clutch.hatchedLow ?? known) + (hatch.about?.low ?? hatch.likely)
  const high = (clutch.hatchedHigh ?? known) + (hatch.about?.high ?? hatch.likely)
  const hatchedOn = minDate(clutch.hatchedOn.toISOString().slice(0, 10), hatch.on)
  await tx.clutch.update({
    where: { workspaceId_id: { workspaceId, id: clutchId } },
    data: {
      hatchedOn: fromPlainDate(hatchedOn),
      counted: isCounted,
      hatchedLow: isCounted ? null : low,
      hatchedHigh: isCounted ? null : high,
      version: { increment: 1 },
    },
  })
  return clutchId
}

async function createClutch(tx: Tx, { workspace }: Actor, hatch: JoiningHatch): Promise<string> {
  const { workspaceId } = workspace
  const zoneId = hatch.zone ?? zoneOfEggCase(hatch.eggCase)
  if (!zoneId) throw refuseField('zone', 'Say where the nymphs stand.')
  const number = await takeNumbers(tx, workspaceId, { name: 'clutch', count: 1 })
  const made = await tx.clutch.create({
    data: {
      workspaceId,
      label: clutchCode(number),
      speciesId: hatch.eggCase.speciesId,
      hatchedOn: fromPlainDate(hatch.on),
      counted: !hatch.about,
      hatchedLow: hatch.about?.low ?? null,
      hatchedHigh: hatch.about?.high ?? null,
    },
    select: { id: true },
  })
  await tx.clutchHousing.create({
    data: { workspaceId, clutchId: made.id, zoneId, fromOn: fromPlainDate(hatch.on) },
  })
  return made.id
}

/** Hangs an egg case somewhere else from a day on. The effective days it has stay with it. */
export async function updateEggCaseZone(tx: Tx, { workspace }: Actor, move: EggCaseMove): Promise<void> {
  const { workspaceId, today } = workspace
  const eggCase = await requireEggCase(tx, workspaceId, move.eggCase)
  refuseFuture('on', move.on, today)
  const present = eggCase.stays.at(-1)
  invariant(present, 'an egg case hangs somewhere')
  if (move.on < present.from) throw refuseField('on', `It has been where it is since ${present.from}.`)
  if (move.zone === present.zoneId) throw refuseField('zone', 'It is there already.')
  const key = { workspaceId, eggCaseId: eggCase.id, fromOn: fromPlainDate(present.from) }
  if (move.on === present.from) {
    await tx.eggCaseStay.update({ where: { workspaceId_eggCaseId_fromOn: key }, data: { zoneId: move.zone } })
    return
  }
  const ended = await tx.eggCaseStay.updateMany({
    where: { ...key, untilOn: null },
    data: { untilOn: fromPlainDate(move.on) },
  })
  if (ended.count === 0) throw new AppError('stale', 'Somebody has just moved it. Look again, please.')
  await tx.eggCaseStay.create({
    data: { workspaceId, eggCaseId: eggCase.id, fromOn: fromPlainDate(move.on), zoneId: move.zone },
  })
}

/** Begins, plans or ends the cold rest. */
export async function updateColdRest(tx: Tx, { workspace }: Actor, typed: EggCaseRest): Promise<void> {
  const eggCase = await requireEggCase(tx, workspace.workspaceId, typed.eggCase)
  refuseWrongRest(typed, { first: firstDayOfEggCase(eggCase), today: workspace.today, path: '' })
  await updateEggCase(tx, workspace, { row: eggCase, version: typed.version, data: restColumns(typed) })
}

/** Ends an egg case, for whichever reason; its records stay. */
export async function archiveEggCase(tx: Tx, { workspace }: Actor, typed: EggCaseEnding): Promise<void> {
  const eggCase = await requireEggCase(tx, workspace.workspaceId, typed.eggCase)
  refuseFuture('on', typed.on, workspace.today)
  const first = maxDate(firstDayOfEggCase(eggCase) ?? typed.on, eggCase.hatches.at(-1)?.on ?? '0001-01-01')
  if (typed.on < first) throw refuseField('on', `This is before ${first}, the last thing recorded of it.`)
  const data = { endedOn: fromPlainDate(typed.on), end: typed.end }
  await updateEggCase(tx, workspace, { row: eggCase, version: typed.version, data })
}

/** Takes an end back. */
export async function updateEggCaseOpen(
  tx: Tx,
  { workspace }: Actor,
  typed: { eggCase: string; version: number },
): Promise<void> {
  const row = await requireEggCase(tx, workspace.workspaceId, typed.eggCase)
  if (row.end === 'sold')
    throw new AppError(
      'already-gone',
      `${row.label} is on a receipt. Take the sale back, and it is here again.`,
    )
  await updateEggCase(tx, workspace, { row, version: typed.version, data: { endedOn: null, end: null } })
}

type EggCaseChange = { endedOn?: Date | null; end?: EggCaseEnding['end'] | null } & Partial<
  ReturnType<typeof restColumns>
>

async function updateEggCase(
  tx: Tx,
  { workspaceId }: Workspace,
  change: { row: EggCaseRow; version: number; data: EggCaseChange },
): Promise<void> {
  const { row, version, data } = change
  const updated = await tx.eggCase.updateMany({
    where: { workspaceId, id: row.id, version },
    data: { ...data, version: { increment: 1 } },
  })
  if (updated.count === 0)
    throw new AppError('stale', `Somebody else has changed ${row.label}.`, { present: presentOf(row) })
}

/** What stands there now, under the names of the form's boxes. */
const presentOf = (row: EggCaseRow) => ({
  version: row.version,
  startOn: row.restStartOn,
  plannedEndOn: row.restPlannedEndOn,
  endedOn: row.restEndedOn,
  on: row.endedOn,
  end: row.end,
})
