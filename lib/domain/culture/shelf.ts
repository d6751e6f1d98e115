import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { PreyLine } from '../prey/line'
import { emergenceCurve } from './emergence'
import { crowdingShare, type JarLaw, type PlacedJar } from './jar-law'
import { type CultureRecord, type LearnedLine, learnLine } from './learning'
import { type Jar, listSuspects, SUSPECT_YIELD_SHARE, type Suspicion } from './mites'
import { type CultureLaw, expectedHarvests, type Harvest, onsetDay } from './running'
import { expectUncounted, NOBODY_COUNTED, type Uncounted, uncountedSince } from './uncounted'

/** A jar as its records tell it. */
export type JarRecord = PlacedJar & {
  id: string
  label: string
  line: string
  shelf: string
  startersFrom: string | null
  crashedOn: PlainDate | null
  mitesOn: PlainDate | null
  mouldOn: PlainDate | null
  endedOn: PlainDate | null
  harvests: readonly Harvest[]
}

const CURVE_DAYS = 90
const DELAY_CV = 0.05
const CRASH_SHARE = 0.1

/** Jars of one board infect each other; where no board is named the zone is taken for one. */
export function jarOf(record: JarRecord): Jar {
  const { id, startersFrom, startedOn, mitesOn, zoneId, shelf } = record
  return { id, startersFrom, startedOn, mitesOn, shelf: `${zoneId}/${shelf.trim().toLowerCase()}` }
}

/** Suspicions of a day by jar: of those that stand, and of those that stood when a neighbour was marked. */
export function suspicionsOn(records: readonly JarRecord[], today: PlainDate): Map<string, Suspicion> {
  const marked = records.filter(({ mitesOn }) => mitesOn !== null && mitesOn <= today)
  const near = records.filter(
    ({ endedOn, mitesOn, startedOn }) =>
      startedOn <= today &&
      (endedOn === null || mitesOn !== null || marked.some((mark) => endedOn >= (mark.mitesOn ?? today))),
  )
  return new Map(listSuspects(near.map(jarOf), today).map((suspicion) => [suspicion.jar, suspicion]))
}

/** What a jar of a line in a room is expected to do: the line's figures, bent by what was learned there. */
export function lawOfLine(
  line: PreyLine,
  room: { temperatureC: number; learned?: LearnedLine | undefined },
): CultureLaw | null {
  const { supply } = line
  if (supply.kind !== 'culture') return null
  const { mean, cv, crashChance } = room.learned ?? supply.yield.value
  const curve = emergenceCurve(supply.curve.value, {
    temperatureC: room.temperatureC,
    days: CURVE_DAYS,
    delayFactor: room.learned?.delayFactor,
  })
  return {
    curve,
    mean,
    cv,
    crashChance,
    crashShare: supply.yield.value.crashShare || CRASH_SHARE,
    delayCv: DELAY_CV,
  }
}

/** A jar that gives nine tenths of a usual one for its starters is a usual one. */
const USUAL_ENOUGH = 0.9

/** What the finished jars of one line in one room have taught by `today`. */
export function learnRoomLine(
  line: PreyLine,
  records: readonly JarRecord[],
  room: { temperatureC: number; today: PlainDate },
): LearnedLine | null {
  const law = lawOfLine(line, room)
  if (!law || line.supply.kind !== 'culture') return null
  const usualStarters = line.supply.starters.value
  const suspectOf = onceSuspect(records)
  const finished = records.flatMap((record): CultureRecord[] => {
    const { startedOn, harvests, endedOn, crashedOn, id, moves = [], starters } = record
    // A jar still standing has not said all, and one nobody wrote a harvest of says nothing of what it gave.
    if (endedOn === null || endedOn > room.today || (harvests.length === 0 && crashedOn === null)) return []
    // Nor does one that stood elsewhere, or was made too full or too thin, say how they do in this room.
    if (moves.length > 0 || crowdingShare(starters ?? null, usualStarters) < USUAL_ENOUGH) return []
    const hasCrashed = crashedOn !== null
    return [{ startedOn, harvested: harvests, endedOn, hasCrashed, isSuspect: suspectOf.has(id) }]
  })
  return learnLine(finished, law)
}

/** Jars that were marked, or stood under suspicion, while they lived. */
function onceSuspect(records: readonly JarRecord[]): Set<string> {
  const found = new Set<string>()
  for (const marked of records) {
    if (marked.mitesOn === null) continue
    const on = marked.mitesOn
    const stood = records.filter(({ startedOn, endedOn }) => startedOn <= on && (endedOn ?? on) >= on)
    for (const { jar } of listSuspects(stood.map(jarOf), on)) found.add(jar)
  }
  return found
}

export type JarState = 'coming' | 'giving' | 'past' | 'crashed'

export type JarOutlook = {
  state: JarState
  suspicion: Suspicion | null
  taken: number
  /** Expected from today on until it is discarded. */
  left: number
  firstFliesOn: PlainDate
  discardOn: PlainDate
  /** Expected flies of each day from the start on. */
  expectedFromStart: readonly number[]
  /** Expected flies of each day from today on, discarded and suspect counted in. */
  ahead: readonly number[]
  /** Flies that are in it now and stand in no harvest and no count. */
  uncounted: Uncounted
}

/** A standing jar today. */
export function outlookOfJar(
  jar: JarRecord,
  known: JarLaw & {
    suspicion: Suspicion | null
    today: PlainDate
    days: number
    /** When flies of its line were last counted, wherever they were. */
    countedOn: PlainDate | null
    dailyDeathRate: number
  },
): JarOutlook {
  const { law, discardAfterDays, suspicion, today, days, countedOn, dailyDeathRate } = known
  const age = Math.max(0, daysBetween(jar.startedOn, today))
  const running = { startedOn: jar.startedOn, harvested: jar.harvests, hasCrashed: jar.crashedOn !== null }
  const share = suspicion ? SUSPECT_YIELD_SHARE : 1
  const ends = jar.endedOn && jar.endedOn < addDays(jar.startedOn, discardAfterDays) ? jar.endedOn : null
  const discardOn = ends ?? addDays(jar.startedOn, discardAfterDays)
  const ahead = expectedHarvests(running, law, { from: today, days }).map((flies, day) =>
    addDays(today, day) < discardOn ? flies * share : 0,
  )
  const onset = onsetDay(law.curve)
  const taken = jar.harvests.reduce((sum, { count }) => sum + count, 0)
  return {
    state: stateOf(jar, { age, onset, discardAfterDays }),
    suspicion,
    taken,
    left: ahead.reduce((sum, flies) => sum + flies, 0),
    firstFliesOn: addDays(jar.startedOn, onset),
    discardOn,
    expectedFromStart: expectedHarvests({ startedOn: jar.startedOn }, law, {
      from: jar.startedOn,
      days: discardAfterDays,
    }),
    ahead,
    uncounted:
      today < discardOn
        ? expectUncounted(running, law, {
            since: uncountedSince(running, countedOn),
            ...{ today, survival: 1 - dailyDeathRate, share },
          })
        : NOBODY_COUNTED,
  }
}

function stateOf(
  jar: JarRecord,
  { age, onset, discardAfterDays }: { age: number; onset: number; discardAfterDays: number },
): JarState {
  if (jar.crashedOn !== null) return 'crashed'
  if (age >= discardAfterDays) return 'past'
  return age < onset && jar.harvests.length === 0 ? 'coming' : 'giving'
}

/** Fewer are not worth a word. */
const FEW_FLIES = 5

/** The state of a jar in words, with the day in it. */
export function sayJar(outlook: JarOutlook, today: PlainDate): string {
  const { state, firstFliesOn, discardOn, left, uncounted } = outlook
  if (state === 'crashed') return 'crashed'
  if (state === 'past') return `past its time since ${writeDay(discardOn, today)}: discard it`
  if (state === 'coming') return `first flies about ${writeDay(firstFliesOn, today)}`
  const inside = uncounted.mean < FEW_FLIES ? '' : `about ${roundFlies(uncounted.mean)} in it uncounted, `
  return `${inside}about ${roundFlies(left)} still to come by ${writeDay(discardOn, today)}`
}

/** Why a jar is suspect, naming others by their labels. */
export function saySuspect(suspicion: Suspicion, labelOf: (id: string) => string, today: PlainDate): string {
  const { because, of, until } = suspicion
  const rule = 'Feed it out, take no starters, count on less of it.'
  if (because === 'marked')
    return `Mites. Feed it out, take no starters, discard it by ${writeDay(until, today)}.`
  const how =
    because === 'shelf' ? `stood on one shelf with ${labelOf(of)}` : `shares starters with ${labelOf(of)}`
  return `Suspect until ${writeDay(until, today)}: ${how}, which has mites. ${rule}`
}

/** As many figures as anybody believes. */
export function roundFlies(count: number): number {
  if (count < 20) return Math.round(count)
  return count < 200 ? Math.round(count / 5) * 5 : Math.round(count / 10) * 10
}
