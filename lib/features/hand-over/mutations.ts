import { maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { type HandedRecord, sayProvenance } from '@/lib/domain/hand-over/record'
import { lastMoultOn } from '@/lib/domain/individual/record'
import { inLedgerOrder } from '@/lib/domain/individual/whereabouts'
import { individualCodes } from '@/lib/domain/label/code'
import { listHandedPhotos, loadHandedPictures, lockHandOver, recordOf } from '@/lib/features/hand-over/data'
import type { HandedOver, NewHandOver, TakeOver, Withdrawal } from '@/lib/features/hand-over/schema'
import { endStays, openStays, requirePlace } from '@/lib/features/housing/data'
import { type IndividualRow, lockIndividuals, refuseAway } from '@/lib/features/individual/data'
import { listPapersOfAnimals, takePapers } from '@/lib/features/paper/data'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { keepPicture } from '@/lib/platform/files'
import { readHandOverCode } from '@/lib/platform/hand-over-link'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import type { Warned, Warning } from '@/lib/platform/warned'
import { type Actor, inWorkspace, type Workspace } from '@/lib/platform/workspace'

/** Offers animals to whoever is given the code. They stay here, and can be sold, until somebody takes them. */
export async function createHandOver(
  tx: Tx,
  { scope, workspace }: Actor,
  { individuals, toName, note }: NewHandOver,
): Promise<{ id: string }> {
  const { workspaceId, today } = workspace
  const animals = await lockIndividuals(tx, workspaceId, individuals)
  for (const animal of animals) refuseAway(animal, today)
  const { id } = await tx.handOver.create({
    data: { workspaceId, toName, note, offeredOn: fromPlainDate(today), madeBy: scope.personId },
    select: { id: true },
  })
  await tx.handOverAnimal.createMany({
    data: animals.map((animal) => ({ workspaceId, handOverId: id, individualId: animal.id })),
  })
  return { id }
}

/** Nobody can take them any more. @throws AppError stale, already-gone */
export async function endHandOver(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { id, version }: Withdrawal,
): Promise<void> {
  const offer = await lockHandOver(tx, workspaceId, id)
  if (offer.acceptedOn !== null) throw new AppError('already-gone', 'They have been taken over already.')
  if (offer.version !== version)
    throw new AppError('stale', 'Somebody else changed this hand-over meanwhile.')
  await tx.handOver.updateMany({
    where: { workspaceId, id },
    data: { withdrawnOn: fromPlainDate(today), version: { increment: 1 } },
  })
}

/**
 * Takes animals over that another workspace offers. First they leave there, in a transaction of that workspace that also
 * keeps what was handed over and for whom; then they arrive here. Whoever is stopped between the two asks again with the
 * same code and gets the same animals, so that none is ever in two places, and none is lost.
 * @throws AppError not-found for a wrong code; already-gone where somebody else was faster or it was withdrawn
 */
export async function recordTakeOver(
  tx: Tx,
  actor: Actor,
  { code, ...place }: TakeOver,
): Promise<Warned<{ ids: string[]; from: string }>> {
  const { workspace } = actor
  const { workspaceId } = workspace
  const read = readHandOverCode(code)
  if (!read) throw refuseField('code', 'This is no code of a hand-over. Paste it whole.')
  if (read.scope.workspaceId === workspaceId)
    throw refuseField('code', 'This is your own offer: its code is for whoever takes the animals over.')
  // Refused before anything has left there.
  const profiles = [...(await loadProfiles(tx, workspaceId)).values()]
  const known = new Map(profiles.map(({ slug, id }) => [slug, id]))
  await requirePlace(tx, workspaceId, { ...place, animals: 1 })
  const handed = await inWorkspace(read.scope, (there, giver) =>
    recordGiven(there, giver, { id: read.id, to: workspace, species: new Set(known.keys()) }),
  )
  const taken = await takeIn(tx, actor, { handed, place, known })
  await takePhotos(tx, actor, { read, handed, ids: taken.value.ids })
  return taken
}

/** Photos read from the other side at once: a few megabytes in memory, however many animals come. */
const PHOTOS_AT_ONCE = 5

type Photographed = {
  read: NonNullable<ReturnType<typeof readHandOverCode>>
  handed: HandedOver
  ids: string[]
}

/** The photos come along as copies: they stay with the side that gave the animals as well. */
async function takePhotos(
  tx: Tx,
  { scope, workspace }: Actor,
  { read, handed, ids }: Photographed,
): Promise<void> {
  const { workspaceId } = workspace
  const ownOf = new Map(handed.records.map(({ label }, index) => [label, ids[index]]))
  const photos = await inWorkspace(read.scope, (there, giver) =>
    listHandedPhotos(there, giver.workspaceId, read.id),
  )
  for (let at = 0; at < photos.length; at += PHOTOS_AT_ONCE) {
    const some = photos.slice(at, at + PHOTOS_AT_ONCE)
    const pictures = await inWorkspace(read.scope, (there, giver) =>
      loadHandedPictures(there, giver.workspaceId, { id: read.id, photoIds: some.map((photo) => photo.id) }),
    )
    for (const photo of some) {
      const [individualId, picture] = [ownOf.get(photo.label), pictures.get(photo.id)]
      if (!individualId || !picture) continue
      const { widthPx, heightPx } = picture
      const made = await tx.photo.create({
        data: {
          workspaceId,
          individualId,
          widthPx,
          heightPx,
          onSheet: photo.onSheet,
          addedBy: scope.personId,
        },
        select: { id: true },
      })
      await keepPicture(tx, { workspaceId, photoId: made.id }, picture)
    }
  }
}

type Giving = { id: string; to: Workspace; species: ReadonlySet<string> }

/**
 * They leave this workspace for another one, once: whoever of them is still here. The same one may ask again.
 * @throws AppError already-gone; invalid where the other side does not know a species
 */
export async function recordGiven(
  tx: Tx,
  giver: Workspace,
  { id, to, species }: Giving,
): Promise<HandedOver> {
  const { workspaceId, today, name } = giver
  const open = await tx.workspace.findFirst({
    where: { workspaceId, archivedAt: null },
    select: { slug: true },
  })
  if (!open) throw refuseUnknown('hand-over')
  const offer = await lockHandOver(tx, workspaceId, id)
  if (offer.acceptedOn !== null && offer.claim === to.workspaceId)
    return { origin: id, from: name, records: offer.content ?? [] }
  if (offer.acceptedOn !== null || offer.withdrawnOn !== null)
    throw new AppError('already-gone', 'This offer was withdrawn, or somebody else has taken them over.')
  const animals = await lockIndividuals(
    tx,
    workspaceId,
    offer.animals.map((animal) => animal.id),
  )
  const here = animals.filter(({ whereabouts }) => whereabouts === 'single')
  if (here.length === 0) throw new AppError('already-gone', 'None of these animals is there any more.')
  const strange = here.find(({ speciesSlug }) => !species.has(speciesSlug))
  if (strange)
    throw refuseField(
      'code',
      `${strange.scientificName} is not among your species. Add it first, then take them over.`,
    )
  const records = await giveAway(tx, giver, { id, here, to })
  await tx.handOver.updateMany({
    where: { workspaceId, id },
    data: {
      ...{ acceptedOn: fromPlainDate(today), claim: to.workspaceId, content: records },
      ...{ toName: to.name, version: { increment: 1 } },
    },
  })
  return { origin: id, from: name, records }
}

async function giveAway(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { id, here, to }: { id: string; here: IndividualRow[]; to: Workspace },
): Promise<HandedRecord[]> {
  const zones = await loadZonesById(tx, workspaceId)
  const papers = await listPapersOfAnimals(
    tx,
    workspaceId,
    here.map((animal) => animal.id),
  )
  const records = here.map((animal) => recordOf(animal, { zones, papers: papers.get(animal.id) ?? [] }))
  await endStays(tx, workspaceId, { animals: here, on: today, today })
  const entries = await tx.headCountEntry.createManyAndReturn({
    data: inLedgerOrder(here).map((animal) => ({
      ...{ workspaceId, clutchId: animal.clutchId, individualId: animal.id, count: 1 },
      ...{ from: 'single' as const, to: 'given_away' as const },
      on: fromPlainDate(leavingDay(animal, today)),
      note: `handed over to ${to.name}`,
    })),
    select: { id: true, individualId: true },
  })
  for (const entry of entries)
    await tx.handOverAnimal.updateMany({
      where: { workspaceId, handOverId: id, individualId: entry.individualId ?? '' },
      data: { entryId: entry.id },
    })
  return records
}

/** The other side's day may be a day ahead of this one's records only by the clock. */
function leavingDay(animal: IndividualRow, today: PlainDate): PlainDate {
  return maxDate(today, lastMoultOn(animal) ?? today)
}

type TakingIn = {
  handed: HandedOver
  place: Omit<TakeOver, 'code'>
  known: ReadonlyMap<string, string>
}

/** They arrive here: each with a label of this workspace, a container, its entry in the ledger and what was known of it. */
async function takeIn(
  tx: Tx,
  actor: Actor,
  { handed, place: wish, known }: TakingIn,
): Promise<Warned<{ ids: string[]; from: string }>> {
  const { scope, workspace } = actor
  const { workspaceId, today, labelKey } = workspace
  const { records, origin, from } = handed
  const before = await tx.takenOver.findFirst({ where: { workspaceId, origin }, select: { number: true } })
  if (before) throw new AppError('already-recorded', 'These animals have been taken over here already.')
  const place = await requirePlace(tx, workspaceId, { ...wish, animals: records.length })
  const first = await takeNumbers(tx, workspaceId, { name: 'individual', count: records.length })
  const labels = individualCodes({ first, count: records.length }, String(labelKey))
  const on = fromPlainDate(today)
  const made = await tx.individual.createManyAndReturn({
    data: records.map((record, index) => ({
      ...{ workspaceId, label: labels[index] ?? '', speciesId: known.get(record.speciesSlug) ?? '' },
      ...({
        whereabouts: 'uncounted' as const,
        origin: record.origin === 'wild' ? 'wild' : 'bought',
      } as const),
      ...{ sex: record.sex, sexCertainty: record.sexCertainty, mated: record.mated, baselineOn: on },
      baselineMoults: record.moults,
      baselineLastMoultOn: fromPlainDateOrNull(record.lastMoultOn),
      adultSinceOn: fromPlainDateOrNull(record.adultSinceOn),
      supplier: sayProvenance(record, from),
      notes: record.notes,
    })),
    select: { id: true, label: true },
  })
  const idOf = new Map(made.map(({ id, label }) => [label, id]))
  const ids = labels.flatMap((label) => idOf.get(label) ?? [])
  await tx.takenOver.createMany({
    data: ids.map((individualId, number) => ({
      ...{ workspaceId, individualId, origin, number, fromName: from, record: records[number] ?? {} },
    })),
  })
  await tx.headCountEntry.createMany({
    data: ids.map((individualId) => ({
      ...{ workspaceId, individualId, from: 'uncounted' as const, to: 'single' as const, count: 1, on },
      ...{ note: `taken over from ${from}`, recordedBy: scope.personId },
    })),
  })
  await openStays(tx, workspaceId, { individualIds: ids, place, on: today })
  await takePaperCopies(tx, actor, { records, ids })
  return { value: { ids, from }, warnings: [...place.warnings, ...warnOfQuarantine(records, today)] }
}

/** Where an animal goes its permits and proofs go. The other side's clock may be ahead: no day is refused. */
async function takePaperCopies(
  tx: Tx,
  actor: Actor,
  { records, ids }: { records: readonly HandedRecord[]; ids: readonly string[] },
): Promise<void> {
  const { today } = actor.workspace
  for (const [index, individualId] of ids.entries()) {
    const papers = (records[index]?.papers ?? []).map((paper) => ({ ...paper, on: minDate(paper.on, today) }))
    await takePapers(tx, actor, { of: [{ individualId }], papers })
  }
}

function warnOfQuarantine(records: readonly HandedRecord[], today: PlainDate): Warning[] {
  const until = records.map(({ quarantineUntil }) => quarantineUntil ?? '').reduce(maxDate, '')
  if (until <= today) return []
  return [{ code: 'quarantine', message: `Where they come from they were in quarantine until ${until}.` }]
}
