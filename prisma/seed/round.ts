import { sharesByDay } from '@/lib/domain/separation/deadline'
import type { MoultedShare } from '@/lib/domain/separation/sighting'
import { invariant } from '@/lib/platform/errors'
import { createSeedStream } from './stream'
import { stamp, type Workbook } from './workbook'

/** Rounds of the last fortnight, by day of the story, and who walked them. */
const ROUND_DAYS = [-13, -10, -8, -5, -3, -1]
/** Evenings on which somebody lifted the lid of those together. */
const SIGHTING_DAYS = [-16, -9, -6, -2]

/**
 * The looks behind the forecasts: moult rounds, with the moults that were noticed on them, and what was seen of the
 * clutches together. Drawn from a stream of its own, so that nothing else of the story changes with it.
 */
export function writeRounds(book: Workbook, walkers: readonly string[], seed: number): void {
  const own = { ...book, stream: createSeedStream(seed) }
  for (const [index, day] of ROUND_DAYS.entries()) {
    const walkedBy = walkers[index % walkers.length]
    invariant(walkedBy, 'somebody walks the round')
    writeRound(own, { day, walkedBy })
  }
  for (const day of SIGHTING_DAYS) writeSightings(own, { day, seenBy: walkers[0] ?? null })
}

type Walk = { day: number; walkedBy: string }

function writeRound(book: Workbook, { day, walkedBy }: Walk): void {
  const on = book.dateOf(day)
  const round = stamp(book, day)
  book.rows.moultRound.push({
    ...round,
    on,
    walkedBy,
    finishedAt: new Date(round.createdAt.getTime() + 25 * 60_000),
  })
  const leftOn = leavingDays(book)
  const moults = new Map<string, Workbook['rows']['moult']>()
  for (const moult of book.rows.moult)
    moults.set(moult.individualId, [...(moults.get(moult.individualId) ?? []), moult])
  for (const animal of book.rows.individual) {
    const left = leftOn.get(String(animal.id))
    const isHere = dayOf(animal.baselineOn) <= on && (left === undefined || on < left)
    const isGrown = animal.adultSinceOn && dayOf(animal.adultSinceOn) < on
    if (!isHere || isGrown) continue
    const own = moults.get(String(animal.id)) ?? []
    // A skin that lay there unseen: its cup was behind another one that evening.
    if (own.some(({ seenFrom, on: noticed }) => seenFrom && dayOf(seenFrom) < on && on < dayOf(noticed)))
      continue
    const moult = own.find((one) => dayOf(one.on).getTime() === on.getTime())
    book.rows.look.push({
      ...stamp(book, day),
      individualId: String(animal.id),
      on,
      moultId: moult?.id ?? null,
      moultRoundId: round.id,
      lookedBy: walkedBy,
      ...(moult ? {} : signsOf(book, { animal, own, on })),
    })
  }
}

const DAY_MS = 86_400_000
/** Buds swell in the later part of the instar, and food is refused in the last days of it. */
const BUDS_AFTER_DAYS = 10
const REFUSES_BEFORE_DAYS = 3

type Individual = Workbook['rows']['individual'][number]
type Moult = Workbook['rows']['moult'][number]

/** What an animal without a skin shows, by the moults that the story has for it. */
function signsOf(
  book: Workbook,
  { animal, own, on }: { animal: Individual; own: readonly Moult[]; on: Date },
) {
  const species = [...book.species.values()].find(({ id }) => id === animal.speciesId)
  const last = own.findLast((moult) => dayOf(moult.on) <= on)
  const next = own.find((moult) => dayOf(moult.on) > on)
  const { sex } = animal
  if (!species || !last || (sex !== 'female' && sex !== 'male')) return {}
  const days = (from: Date, until: Date) => (until.getTime() - from.getTime()) / DAY_MS
  const { typical } = species.profile.growth.moultsToAdult[sex].value
  const isLastInstar = next ? next.final === true : last.number >= typical - 1
  return {
    wingBuds: isLastInstar && days(dayOf(last.on), on) >= BUDS_AFTER_DAYS,
    refusesFood: next !== undefined && days(on, dayOf(next.on)) <= REFUSES_BEFORE_DAYS,
  }
}

/** The rows of the story carry days; the type of a row would allow more. */
function dayOf(value: unknown): Date {
  invariant(value instanceof Date, 'a day of the story')
  return value
}

/** The day on which each animal left, of those that did. */
function leavingDays(book: Workbook): Map<string, Date> {
  return new Map(
    book.rows.headCountEntry.flatMap((entry) =>
      entry.from === 'single' && entry.individualId
        ? [[String(entry.individualId), dayOf(entry.on)] as const]
        : [],
    ),
  )
}

function writeSightings(book: Workbook, { day, seenBy }: { day: number; seenBy: string | null }): void {
  for (const clutch of book.rows.clutch) {
    const housing = book.rows.clutchHousing.find(({ clutchId }) => clutchId === clutch.id)
    if (!housing || housing.untilOn || dayOf(clutch.hatchedOn) >= book.dateOf(day)) continue
    const species = [...book.species.values()].find(({ id }) => id === clutch.speciesId)
    const zone = [...book.zones.values()].find(({ id }) => id === housing.zoneId)
    invariant(species && zone, 'a clutch has a species and a zone')
    const shares = sharesByDay({
      profile: species.profile,
      hatchedOn: dayOf(clutch.hatchedOn).toISOString().slice(0, 10),
      together: 40,
      history: zone.story.setPoints.map(({ day: from, dayC, nightC }, index, all) => {
        const next = all[index + 1]
        const until = next ? book.plainOf(next.day) : null
        return { from: book.plainOf(from), until, dayC, ...(nightC === null ? {} : { nightC }) }
      }),
      today: book.plainOf(day),
    })(book.plainOf(day))
    const past = (number: number) => shares.slice(number).reduce((sum, share) => sum + share, 0)
    // The moult that is going on, or else the one that is to come.
    const number = Math.max(
      1,
      shares.findIndex((_, moults) => moults > 0 && past(moults) < 0.97),
    )
    book.rows.clutchObservation.push({
      ...stamp(book, day),
      clutchId: String(clutch.id),
      on: book.dateOf(day),
      moulted: wordOf(past(number)),
      number,
      seenBy,
    })
  }
}

function wordOf(share: number): MoultedShare {
  if (share < 0.02) return 'none'
  if (share < 0.1) return 'first'
  if (share < 0.5) return 'some'
  return share < 0.95 ? 'most' : 'all'
}
