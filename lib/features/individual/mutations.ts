import { moultsOf } from '@/lib/domain/individual/record'
import { moultsOfInstar, ordinal } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { individualCodes } from '@/lib/domain/label/code'
import { openStays, requirePlace } from '@/lib/features/housing/data'
import { type IndividualRow, lockIndividual } from '@/lib/features/individual/data'
import type { IndividualNote, NewIndividual, Sexing } from '@/lib/features/individual/schema'
import { takePapers } from '@/lib/features/paper/data'
import { requireSpecies, type SpeciesWithProfile } from '@/lib/features/species/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace } from '@/lib/platform/workspace'

/** Animals that came from elsewhere as one lot, each with a label, a container and its entry in the ledger. */
export async function createIndividuals(
  tx: Tx,
  actor: Actor,
  lot: { animal: NewIndividual; count: number },
): Promise<Warned<{ id: string; label: string }[]>> {
  const { scope, workspace } = actor
  const { workspaceId, today } = workspace
  const { animal, count } = lot
  refuseFuture('on', animal.on, today)
  if (animal.lastMoultOn && animal.lastMoultOn > animal.on)
    throw refuseField('lastMoultOn', 'This day is after it came here.')
  const species = await requireSpecies(tx, workspaceId, animal.species)
  const place = await requirePlace(tx, workspaceId, { ...animal, animals: count })
  const baseline = readBaseline(animal, { workspace, species })
  const first = await takeNumbers(tx, workspaceId, { name: 'individual', count })
  const { sex, supplier, notes, origin } = animal
  const made = await tx.individual.createManyAndReturn({
    data: individualCodes({ first, count }, String(workspace.labelKey)).map((label) => ({
      workspaceId,
      label,
      speciesId: species.id,
      whereabouts: 'uncounted' as const,
      origin,
      sex,
      sexCertainty: sex === 'unsexed' ? ('none' as const) : certaintyOf(species, { ...animal, ...baseline }),
      ...baseline,
      baselineOn: fromPlainDate(animal.on),
      mated: animal.mated ?? null,
      supplier,
      notes,
    })),
    select: { id: true, label: true },
  })
  const individualIds = made.map(({ id }) => id)
  await tx.headCountEntry.createMany({
    data: individualIds.map((individualId) => ({
      workspaceId,
      individualId,
      from: 'uncounted' as const,
      to: 'single' as const,
      count: 1,
      on: fromPlainDate(animal.on),
      recordedBy: scope.personId,
    })),
  })
  await openStays(tx, workspaceId, { individualIds, place, on: animal.on })
  const of = individualIds.map((individualId) => ({ individualId }))
  await takePapers(tx, actor, { of, papers: animal.papers })
  return { value: made, warnings: place.warnings }
}

/** Moults and dates the record begins with. A species without a profile has no instars, so nothing is counted. */
function readBaseline(
  animal: NewIndividual,
  { workspace, species }: { workspace: Workspace; species: SpeciesWithProfile },
) {
  const baselineLastMoultOn = fromPlainDateOrNull(animal.lastMoultOn)
  if (animal.adult) {
    const { male, female } = species.profile?.growth.moultsToAdult ?? {}
    const ofSex = (animal.sex === 'male' ? male : female)?.value.typical ?? 0
    const adultSinceOn = fromPlainDate(animal.lastMoultOn ?? animal.on)
    return { baselineMoults: ofSex, baselineLastMoultOn, adultSinceOn }
  }
  const { convention } = instarNamingOf(workspace)
  const baselineMoults = moultsOfInstar(animal.instar ?? 0, convention)
  if (baselineMoults === null)
    throw refuseField('instar', `There is no such instar here: the hatchling counts as the ${ordinal(2)}.`)
  return { baselineMoults, baselineLastMoultOn, adultSinceOn: null }
}

type Sexed = {
  sexCertainty?: 'probable' | 'certain'
  baselineMoults: number
  adultSinceOn: unknown
}

function certaintyOf(species: SpeciesWithProfile, animal: Sexed): 'probable' | 'certain' {
  if (animal.sexCertainty) return animal.sexCertainty
  const certainFrom = species.profile?.handling.sexing.value.certainFromMoults ?? 0
  return animal.adultSinceOn || animal.baselineMoults >= certainFrom ? 'certain' : 'probable'
}

/** The sex as somebody saw it. How sure that can be at this stage is said, and recorded as given. */
export async function recordSexing(
  tx: Tx,
  workspace: Workspace,
  sexing: Sexing,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  refuseFuture('on', sexing.on, today)
  const animal = await lockIndividual(tx, workspaceId, sexing.individual)
  refuseStale(animal, sexing.version)
  const species = await requireSpecies(tx, workspaceId, animal.speciesId)
  const seen = {
    sexCertainty: sexing.certainty,
    baselineMoults: moultsOf(animal),
    adultSinceOn: animal.adultSinceOn,
  }
  const sexCertainty = sexing.sex === 'unsexed' ? ('none' as const) : certaintyOf(species, seen)
  await tx.individual.updateMany({
    where: { workspaceId, id: animal.id },
    data: { sex: sexing.sex, sexCertainty, version: { increment: 1 } },
  })
  return { value: { id: animal.id }, warnings: sexingWarnings(animal, sexing, species) }
}

function sexingWarnings(animal: IndividualRow, { sex }: Sexing, species: SpeciesWithProfile): Warning[] {
  const sexing = species.profile?.handling.sexing.value
  if (!sexing || sex === 'unsexed' || animal.adultSinceOn || moultsOf(animal) >= sexing.probableFromMoults)
    return []
  const message =
    'Young nymphs all show eight belly segments, so it is early to tell. The record says so on every sheet.'
  return [{ code: 'early-sexing', message }]
}

/** Notes and whether it is mated. @throws AppError stale with what stands there now */
export async function updateIndividualNote(
  tx: Tx,
  workspace: Workspace,
  note: IndividualNote,
): Promise<void> {
  const { workspaceId } = workspace
  const mated = note.mated === 'unknown' ? null : note.mated === 'yes'
  const animal = await lockIndividual(tx, workspaceId, note.individual)
  refuseStale(animal, note.version)
  await tx.individual.updateMany({
    where: { workspaceId, id: animal.id, version: note.version },
    data: { notes: note.notes, mated, version: { increment: 1 } },
  })
}

function refuseStale(animal: IndividualRow, version: number | undefined): void {
  if (version === undefined || version === animal.version) return
  const { sex, notes, mated } = animal
  const present = {
    version: animal.version,
    sex,
    notes,
    mated: mated === null ? 'unknown' : mated ? 'yes' : 'no',
  }
  throw new AppError('stale', 'Someone else changed this animal meanwhile.', { present })
}
