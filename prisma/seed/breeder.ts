import { clutchCode, eggCaseCode } from '@/lib/domain/label/code'
import { type Animal, endAnimal, entryStamp, writeAnimal } from './animal'
import { type DrawnLife, drawLife } from './growth'
import { CLUTCHES, type ClutchStory, EGG_CASES, type EggCaseStory, SPECIES_PACE } from './scenario'
import { type Departure, groupByDay, writeSale } from './shop-counter'
import {
  rateInZone,
  requireSpeciesEntry,
  requireZoneEntry,
  type SpeciesEntry,
  stamp,
  stampId,
  type Workbook,
} from './workbook'

/** Writes the breeder's year: every clutch with its egg case, its animals and what became of them. */
export function writeBreeder(book: Workbook, sellerId: string): Departure[] {
  const departures = CLUTCHES.flatMap((story) => writeClutch(book, story))
  for (const basket of groupByDay(departures)) writeSale(book, basket, sellerId)
  for (const story of EGG_CASES) writeEggCase(book, story)
  mistypeOne(book)
  return departures
}

/** One tired evening the day of a moult was typed ten days too late, on an animal that is still here. */
function mistypeOne({ rows, dateOf }: Workbook): void {
  const gone = new Set(
    rows.headCountEntry.filter(({ from }) => from === 'single').map(({ individualId }) => individualId),
  )
  const [early, late] = [dateOf(-200).getTime(), dateOf(-30).getTime()]
  const timeOf = (on: Date | string) => new Date(on).getTime()
  for (const moult of rows.moult) {
    const on = timeOf(moult.on)
    const next = rows.moult.find(
      ({ individualId, number }) => individualId === moult.individualId && number === moult.number + 1,
    )
    if (gone.has(moult.individualId) || !next || next.seenFrom || moult.number < 2 || on < early || on > late)
      continue
    const typed = on + 10 * 86_400_000
    const isSameMonth = new Date(typed).getUTCMonth() === new Date(on).getUTCMonth()
    if (!isSameMonth || typed >= timeOf(next.on) || timeOf(next.on) - on > 16 * 86_400_000) continue
    Object.assign(moult, { on: new Date(typed), seenFrom: null })
    return
  }
}

type OpenClutch = {
  id: string
  story: ClutchStory
  species: SpeciesEntry
  zoneId: string
  left: number
  pace: number
}

/** One clutch with its egg case, its animals and what became of them. */
export function writeClutch(book: Workbook, story: ClutchStory): Departure[] {
  const species = requireSpeciesEntry(book, story.species)
  const zone = requireZoneEntry(book, story.zone)
  const identity = stamp(book, story.hatchDay)
  const label = clutchCode(++book.numbers.clutch)
  const spread = Math.round(story.hatched * 0.08)
  const about = { hatchedLow: story.hatched - spread, hatchedHigh: story.hatched + spread }
  book.rows.clutch.push({
    ...identity,
    label,
    speciesId: species.id,
    hatchedOn: book.dateOf(story.hatchDay),
    counted: story.counted,
    ...about,
  })
  writeHatchedEggCase(book, story, { clutchId: identity.id, speciesId: species.id, zoneId: zone.id })
  book.rows.headCountEntry.push({
    ...entryStamp(book, story.hatchDay),
    clutchId: identity.id,
    from: 'uncounted',
    to: 'together',
    count: story.hatched,
  })
  const pace = (SPECIES_PACE[story.species] ?? 1) * Math.exp(0.1 * book.stream.normal())
  const clutch = { id: identity.id, story, species, zoneId: zone.id, left: story.hatched, pace }
  writeLosses(book, clutch)
  const departures = story.evenings.flatMap((evening) => writeEvening(book, clutch, evening))
  const lastEvening = story.evenings.at(-1)
  const isParted = clutch.left === 0 && lastEvening !== undefined
  book.rows.clutchHousing.push({
    ...stampId(book, story.hatchDay),
    clutchId: identity.id,
    zoneId: zone.id,
    fromOn: book.dateOf(story.hatchDay),
    untilOn: isParted ? book.dateOf(story.hatchDay + lastEvening.afterDays) : null,
  })
  return departures
}

// Losses while together, on a few days: most are found, some are eaten without a trace and count as eaten by a sibling.
function writeLosses(book: Workbook, clutch: OpenClutch): void {
  const { story } = clutch
  let lost = Math.round(story.hatched * story.lostTogether)
  const lastDay = story.hatchDay + (story.evenings[0]?.afterDays ?? -story.hatchDay) - 1
  while (lost > 0) {
    const count = Math.min(lost, 1 + Math.floor(book.stream.uniform() * 3))
    const day =
      story.hatchDay + 3 + Math.floor(book.stream.uniform() * Math.max(1, lastDay - story.hatchDay - 3))
    book.rows.headCountEntry.push({
      ...entryStamp(book, Math.min(day, 0)),
      clutchId: clutch.id,
      from: 'together',
      to: 'dead',
      count,
      cause: book.stream.pick(['unknown', 'eaten_by_sibling', 'dried_out', 'fell']),
    })
    lost -= count
    clutch.left -= count
  }
  if (story.unaccounted) {
    clutch.left -= story.unaccounted
    book.rows.headCountEntry.push({
      ...entryStamp(book, lastDay),
      clutchId: clutch.id,
      from: 'together',
      to: 'unaccounted',
      count: story.unaccounted,
      note: 'Counted while cupping up: fewer than written down.',
    })
  }
}

function writeEvening(
  book: Workbook,
  clutch: OpenClutch,
  evening: { afterDays: number; share: number },
): Departure[] {
  const day = clutch.story.hatchDay + evening.afterDays
  const count = Math.round(clutch.left * evening.share)
  const separation = stamp(book, day)
  const cup = book.kinds[0]
  book.rows.separation.push({
    ...separation,
    clutchId: clutch.id,
    containerKindId: cup?.id ?? '',
    zoneId: clutch.zoneId,
    on: book.dateOf(day),
    planned: count,
    firstNumber: book.numbers.individual + 1,
    finishedAt: new Date(separation.createdAt.getTime() + count * 45_000),
  })
  clutch.left -= count
  const departures: Departure[] = []
  for (let index = 0; index < count; index++) {
    const departure = writeAnimalOfClutch(book, clutch, { day, separationId: separation.id })
    if (departure) departures.push(departure)
  }
  return departures
}

function writeAnimalOfClutch(
  book: Workbook,
  clutch: OpenClutch,
  evening: { day: number; separationId: string },
): Departure | null {
  const { species, story } = clutch
  const whole = drawSurvivor(book, clutch, evening.day)
  const saleDay = book.stream.chance(story.soldShare)
    ? drawSaleDay(book, species, { life: whole, beginDay: evening.day })
    : null
  const endDay = saleDay ?? whole.deathDay
  const life = { ...whole, moults: whole.moults.filter((moult) => endDay === null || moult.day <= endDay) }
  const animal = writeAnimal(book, {
    species,
    zoneId: clutch.zoneId,
    clutchId: clutch.id,
    separationId: evening.separationId,
    beginDay: evening.day,
    life,
    origin: 'bred',
    supplier: '',
  })
  if (saleDay === null) {
    endAnimal(book, animal, whole.deathDay === null ? null : { day: whole.deathDay, to: 'dead' })
    writeFeedings(book, animal, whole.deathDay)
    return null
  }
  const entryId = endAnimal(book, animal, { day: saleDay, to: 'sold' })
  return entryId ? { animal, entryId, day: saleDay, whole } : null
}

// The animals that were parted are those that lived to be parted.
function drawSurvivor(book: Workbook, clutch: OpenClutch, beginDay: number): DrawnLife {
  const settings = {
    profile: clutch.species.profile,
    hatchDay: clutch.story.hatchDay,
    rateOf: rateInZone(book, clutch.story.zone, clutch.species.profile),
    untilDay: 0,
  }
  for (;;) {
    const pace = clutch.pace * Math.exp(0.08 * book.stream.normal())
    const life = drawLife({ ...settings, pace }, book.stream)
    if (life.deathDay === null || life.deathDay > beginDay + 1) return life
  }
}

// Sold some days after a moult of a saleable age, once hard again and before the next one.
function drawSaleDay(
  book: Workbook,
  species: SpeciesEntry,
  { life, beginDay }: { life: DrawnLife; beginDay: number },
): number | null {
  const from = species.profile.handling.saleFromMoults.value
  const candidates = life.moults.filter(
    (moult) => moult.number >= from && moult.number <= from + 2 && !moult.final && moult.day > beginDay,
  )
  const [first, ...more] = candidates.map((moult) => moult.day + 3 + Math.floor(book.stream.uniform() * 5))
  if (first === undefined) return null
  const day = book.stream.pick([first, ...more])
  return day < 0 && (life.deathDay === null || day < life.deathDay) ? day : null
}

function writeFeedings(book: Workbook, animal: Animal, deathDay: number | null): void {
  if (deathDay !== null) return
  const lastMoultDay = animal.life.moults.at(-1)?.day ?? animal.beginDay
  for (
    let day = Math.max(animal.beginDay + 1, -13);
    day < 0;
    day += 2 + Math.floor(book.stream.uniform() * 2)
  ) {
    const { workspaceId, id, createdAt } = stamp(book, day)
    const ate = Math.abs(day - lastMoultDay) > 2 && !book.stream.chance(0.06)
    book.rows.feeding.push({ workspaceId, id, createdAt, individualId: animal.id, on: book.dateOf(day), ate })
  }
}

function writeHatchedEggCase(
  book: Workbook,
  story: ClutchStory,
  at: { clutchId: string; speciesId: string; zoneId: string },
): void {
  const incubation = requireSpeciesEntry(book, story.species).profile.hatch.incubation.value
  const laidDay = story.hatchDay - Math.round((incubation.minDays + incubation.maxDays) / 2)
  const eggCase = stamp(book, Math.max(-399, laidDay))
  book.rows.eggCase.push({
    ...eggCase,
    label: eggCaseCode(++book.numbers.eggCase),
    speciesId: at.speciesId,
    laidOn: book.dateOf(laidDay),
    endedOn: book.dateOf(Math.min(0, story.hatchDay + 10)),
    end: 'spent',
  })
  book.rows.eggCaseStay.push({
    workspaceId: book.workspaceId,
    eggCaseId: eggCase.id,
    zoneId: at.zoneId,
    fromOn: book.dateOf(laidDay),
    untilOn: book.dateOf(Math.min(0, story.hatchDay + 10)),
  })
  const spread = Math.round(story.hatched * 0.08)
  book.rows.hatch.push({
    ...stamp(book, story.hatchDay),
    eggCaseId: eggCase.id,
    clutchId: at.clutchId,
    on: book.dateOf(story.hatchDay),
    likely: story.hatched,
    low: story.hatched - spread,
    high: story.hatched + spread,
  })
}

function writeEggCase(book: Workbook, story: EggCaseStory): void {
  const beginDay = story.laidDay ?? story.laidRange?.[1] ?? story.receivedDay ?? 0
  const eggCase = stamp(book, beginDay)
  const optional = (day: number | undefined) => (day === undefined ? null : book.dateOf(day))
  book.rows.eggCase.push({
    ...eggCase,
    label: eggCaseCode(++book.numbers.eggCase),
    speciesId: requireSpeciesEntry(book, story.species).id,
    laidOn: optional(story.laidDay),
    laidFrom: optional(story.laidRange?.[0]),
    laidUntil: optional(story.laidRange?.[1]),
    receivedOn: optional(story.receivedDay),
    supplier: story.supplier ?? '',
    notes: story.notes ?? '',
    restStartOn: optional(story.rest?.startDay),
    restPlannedEndOn: optional(story.rest?.plannedEndDay),
    endedOn: optional(story.ended?.day),
    end: story.ended?.end ?? null,
  })
  book.rows.eggCaseStay.push({
    workspaceId: book.workspaceId,
    eggCaseId: eggCase.id,
    zoneId: requireZoneEntry(book, story.zone).id,
    fromOn: book.dateOf(beginDay),
    untilOn: optional(story.ended?.day),
  })
}
