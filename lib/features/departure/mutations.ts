import { inLedgerOrder } from '@/lib/domain/individual/whereabouts'
import { formatCode } from '@/lib/domain/label/code'
import { listKeptBack, OVERRIDE_WORDS, sayWhomToAsk } from '@/lib/domain/role/overrides'
import { codesOf, loadClearances, loadOverridable } from '@/lib/features/clearance/data'
import type { Leaving, Return } from '@/lib/features/departure/schema'
import { endStays, openStays, requirePlace } from '@/lib/features/housing/data'
import {
  type IndividualRow,
  lockIndividual,
  lockIndividuals,
  refuseLeavingOn,
} from '@/lib/features/individual/data'
import { loadTill, overrideRulesOf } from '@/lib/features/till/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned } from '@/lib/platform/warned'
import type { Actor } from '@/lib/platform/workspace'

/** Dead, escaped or given away: the entry in the ledger, the end of the housing, the free container. */
export async function recordLeaving(
  tx: Tx,
  { scope, workspace }: Actor,
  leaving: Leaving,
): Promise<Warned<{ ids: string[] }>> {
  const { workspaceId, today } = workspace
  const { on, to, cause, note } = leaving
  refuseFuture('on', on, today)
  const animals = await lockIndividuals(tx, workspaceId, leaving.individuals)
  for (const animal of animals) refuseLeavingOn(animal, { on, today })
  if (to === 'given_away') await refuseKeptBack(tx, { scope, workspace }, { animals, on })
  await endStays(tx, workspaceId, { animals, on, today })
  await tx.headCountEntry.createMany({
    data: inLedgerOrder(animals).map(({ id, clutchId }) => ({
      workspaceId,
      clutchId,
      individualId: id,
      from: 'single' as const,
      to,
      count: 1,
      on: fromPlainDate(on),
      cause: to === 'dead' ? cause : null,
      note,
      recordedBy: scope.personId,
    })),
  })
  return { value: { ids: animals.map(({ id }) => id) }, warnings: [] }
}

/**
 * Given away is out of the house as well as sold is.
 * @throws AppError not-cleared at the first animal that this role may not let go and nobody has cleared for the day
 */
async function refuseKeptBack(
  tx: Tx,
  { scope, workspace }: Actor,
  { animals, on }: { animals: readonly IndividualRow[]; on: string },
): Promise<void> {
  const { workspaceId } = workspace
  const rules = overrideRulesOf(await loadTill(tx, workspaceId))
  const against = await loadOverridable(tx, workspace, { animals, on })
  const cleared = await loadClearances(tx, workspaceId, { ids: animals.map(({ id }) => id), on })
  for (const { id, label } of animals) {
    const found = (against.get(id) ?? []).map((code) => ({ code, message: OVERRIDE_WORDS[code] }))
    const known = { role: scope.role, rules, cleared: codesOf(cleared.get(id)) }
    const kept = listKeptBack(found, known)
    if (kept.length === 0) continue
    const codes = kept.map(({ code }) => code)
    const words = kept.map(({ message }) => message).join(', ')
    const message = `${formatCode(label)} should stay: ${words}. ${sayWhomToAsk(codes, rules)}.`
    throw new AppError('not-cleared', message, {
      fields: [{ path: 'to', message }],
      present: { individual: id, codes },
    })
  }
}

/** Takes the last leaving back: found again, brought back, or entered by mistake. */
export async function returnIndividual(
  tx: Tx,
  { scope, workspace }: Actor,
  back: Return,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', back.on, today)
  const animal = await lockIndividual(tx, workspaceId, back.individual)
  const { whereabouts } = animal
  if (whereabouts === 'sold')
    throw new AppError('already-gone', `${formatCode(animal.label)} was sold. Take the sale back instead.`)
  if (whereabouts !== 'escaped' && whereabouts !== 'dead' && whereabouts !== 'given_away')
    throw new AppError('already-reversed', `${formatCode(animal.label)} is here already.`)
  const entry = await tx.headCountEntry.findFirst({
    where: { workspaceId, individualId: animal.id, to: whereabouts, reversal: null, reverses: null },
    orderBy: { id: 'desc' },
  })
  if (!entry) throw new AppError('already-reversed', 'That entry has already been taken back.')
  const handed = await tx.handOverAnimal.findFirst({
    where: { workspaceId, entryId: entry.id },
    select: { handOver: { select: { toName: true } } },
  })
  if (handed)
    throw new AppError(
      'already-gone',
      `${formatCode(animal.label)} was handed over to ${handed.handOver.toName}. Take it over from there if it comes back.`,
    )
  if (fromPlainDate(back.on) < entry.on) throw refuseField('on', 'This day is before it left.')
  const place = await requirePlace(tx, workspaceId, { ...back, animals: 1 })
  await tx.headCountEntry.create({
    data: {
      workspaceId,
      clutchId: animal.clutchId,
      individualId: animal.id,
      from: entry.to,
      to: entry.from,
      count: 1,
      on: fromPlainDate(back.on),
      note: back.note,
      reverses: entry.id,
      recordedBy: scope.personId,
    },
  })
  await openStays(tx, workspaceId, { individualIds: [animal.id], place, on: back.on })
  return { value: { id: animal.id }, warnings: place.warnings }
}
