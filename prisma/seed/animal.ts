import { bodyLengthMm } from '@/lib/domain/care-profile/body-length'
import { individualCode } from '@/lib/domain/label/code'
import { invariant } from '@/lib/platform/errors'
import type { DrawnLife } from './growth'
import { type SpeciesEntry, stamp, stampId, type Workbook } from './workbook'

export type AnimalStart = {
  species: SpeciesEntry
  zoneId: string
  clutchId: string | null
  separationId: string | null
  /** the day its own record begins, and what it had behind it then */
  beginDay: number
  life: DrawnLife
  origin: 'bred' | 'bought' | 'wild'
  supplier: string
}
export type Animal = AnimalStart & { id: string; label: string; endDay: number | null }

/** Writes down one animal from its first day in a cup of its own: label, moults, cups, and its natural end. */
export function writeAnimal(book: Workbook, start: AnimalStart): Animal {
  const { species, life, beginDay } = start
  const before = life.moults.filter((moult) => moult.day <= beginDay)
  const label = individualCode(++book.numbers.individual, book.labelKey)
  const individual = stamp(book, beginDay)
  const sexing = species.profile.handling.sexing.value
  const moultsNow = life.moults.length
  const known = moultsNow >= sexing.probableFromMoults
  book.rows.individual.push({
    ...individual,
    label,
    speciesId: species.id,
    clutchId: start.clutchId,
    whereabouts: 'single',
    origin: start.origin,
    sex: known ? life.sex : 'unsexed',
    sexCertainty: !known ? 'none' : moultsNow >= sexing.certainFromMoults ? 'certain' : 'probable',
    baselineOn: book.dateOf(beginDay),
    baselineMoults: before.length,
    baselineLastMoultOn: before.at(-1) ? book.dateOf(before.at(-1)?.day ?? beginDay) : null,
    adultSinceOn: life.moults.at(-1)?.final ? book.dateOf(life.moults.at(-1)?.day ?? beginDay) : null,
    supplier: start.supplier,
  })
  book.rows.headCountEntry.push({
    ...entryStamp(book, beginDay),
    clutchId: start.clutchId,
    individualId: individual.id,
    separationId: start.separationId,
    from: start.clutchId ? 'together' : 'uncounted',
    to: 'single',
    count: 1,
  })
  return { ...start, id: individual.id, label, endDay: null }
}

/** Closes the story of an animal: its moults up to its last day here, its cups, and where it went. */
export function endAnimal(
  book: Workbook,
  animal: Animal,
  end: { day: number; to: 'sold' | 'dead' | 'given_away' } | null,
): string | null {
  const lastDay = end?.day ?? null
  writeMoults(book, animal, lastDay)
  writeCups(book, animal, lastDay)
  if (!end) return null
  const entry = entryStamp(book, end.day)
  book.rows.headCountEntry.push({
    ...entry,
    clutchId: animal.clutchId,
    individualId: animal.id,
    from: 'single',
    to: end.to,
    count: 1,
    cause: end.to === 'dead' ? animal.life.cause : null,
  })
  return entry.id
}

/** The id and the two times of a ledger entry on a day. */
export function entryStamp(book: Workbook, day: number) {
  const { workspaceId, id, createdAt } = stamp(book, day)
  return { workspaceId, id, on: book.dateOf(day), recordedAt: createdAt }
}

function writeMoults(book: Workbook, animal: Animal, lastDay: number | null): void {
  for (const moult of animal.life.moults) {
    if (moult.day <= animal.beginDay || (lastDay !== null && moult.day > lastDay)) continue
    book.rows.moult.push({
      ...stamp(book, moult.day),
      individualId: animal.id,
      number: moult.number,
      on: book.dateOf(moult.day),
      seenFrom:
        moult.seenFromDay !== null && moult.seenFromDay > animal.beginDay
          ? book.dateOf(moult.seenFromDay)
          : null,
      outcome: moult.bad ? 'bad' : 'good',
      final: moult.final,
    })
  }
}

// An animal moves to the next kind of cup two days after the moult that makes its cup too low for it.
function writeCups(book: Workbook, animal: Animal, lastDay: number | null): void {
  const heightFactor = animal.species.profile.housing.heightFactor.value
  const kindFor = (moults: number) => {
    const lengthMm = bodyLengthMm(animal.species.profile, { sex: animal.life.sex, moults })
    return singles.find(({ story }) => story.innerHeightMm >= heightFactor * lengthMm) ?? singles.at(-1)
  }
  const singles = book.kinds.filter(({ story }) => story.single)
  const steps: { day: number; kindId: string }[] = []
  const moves = animal.life.moults.filter((moult) => moult.day + 2 > animal.beginDay)
  const baseline = animal.life.moults.length - moves.length
  for (const step of [{ day: animal.beginDay - 2, number: baseline }, ...moves]) {
    const kind = kindFor(step.number)
    invariant(kind, 'the demo has a cup of some size')
    const day = step.day + 2
    const isPast = day <= 0 && (lastDay === null || day < lastDay)
    if (isPast && steps.at(-1)?.kindId !== kind.id) steps.push({ day, kindId: kind.id })
  }
  for (const [index, step] of steps.entries()) {
    const untilDay = steps[index + 1]?.day ?? lastDay
    const container = stamp(book, step.day)
    const untilOn = untilDay === null ? null : book.dateOf(untilDay)
    book.rows.container.push({ ...container, containerKindId: step.kindId, single: true, emptiedOn: untilOn })
    book.rows.housing.push({
      ...stampId(book, step.day),
      individualId: animal.id,
      containerId: container.id,
      single: true,
      zoneId: animal.zoneId,
      fromOn: book.dateOf(step.day),
      untilOn,
    })
  }
}
