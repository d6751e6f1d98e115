import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isCalled, nextCallMs, nextLookMs } from '@/lib/domain/zone/call'
import {
  listCrossings,
  type Measured,
  MINUTE_MS,
  silentSince,
  type WatchLimits,
} from '@/lib/domain/zone/crossing'
import { foldIncidents, type KnownIncident } from '@/lib/domain/zone/incident-fold'
import { saySpan } from '@/lib/domain/zone/incident-words'

const START = Date.parse('2026-07-10T00:00:00Z')
const at = (minutes: number) => START + minutes * MINUTE_MS
const LIMITS: WatchLimits = { lowC: 18, highC: 30, delayMinutes: 10, silenceMinutes: 60, sinceMs: START }
const read = (...pairs: [minutes: number, temperatureC: number][]): Measured[] =>
  pairs.map(([minutes, temperatureC]) => ({ atMs: at(minutes), temperatureC }))

describe('a zone outside of its limits', () => {
  it('is a crossing once that has lasted for the delay, with how far it went', () => {
    const readings = read([0, 25], [5, 31], [10, 33.5], [20, 32], [25, 29])
    expect(listCrossings(readings.slice(0, 3), LIMITS, at(14))).toEqual([])
    expect(listCrossings(readings.slice(0, 3), LIMITS, at(15))).toMatchObject([
      { kind: 'too_hot', beganMs: at(5), endedMs: null, extremeC: 33.5, limitC: 30 },
    ])
    expect(listCrossings(readings, LIMITS, at(99))).toMatchObject([{ beganMs: at(5), endedMs: at(25) }])
  })

  it('at the limit itself is inside, and a moment outside calls nobody', () => {
    expect(listCrossings(read([0, 30], [60, 30]), LIMITS, at(99))).toEqual([])
    expect(listCrossings(read([0, 34], [9, 29]), LIMITS, at(99))).toEqual([])
  })

  it('that comes and goes within the delay is one crossing, later it is another one', () => {
    const flicker = read([0, 31], [12, 29], [20, 31], [40, 29], [60, 32], [80, 29])
    expect(listCrossings(flicker, LIMITS, at(200)).map(({ beganMs, endedMs }) => [beganMs, endedMs])).toEqual(
      [
        [at(0), at(40)],
        [at(60), at(80)],
      ],
    )
  })

  it('knows too cold from too hot, and looks at no reading from before it was watched', () => {
    const readings = read([-30, 10], [0, 16], [30, 20])
    expect(listCrossings(readings, LIMITS, at(99))).toMatchObject([
      { kind: 'too_cold', beganMs: at(0), extremeC: 16, limitC: 18 },
    ])
  })
})

describe('a zone without readings', () => {
  it('is silent once the time has passed, counted from the last reading or from when it was watched', () => {
    expect(silentSince(at(0), LIMITS, at(59))).toBeNull()
    expect(silentSince(at(0), LIMITS, at(60))).toBe(at(0))
    expect(silentSince(null, LIMITS, at(60))).toBe(at(0))
    expect(silentSince(at(0), { ...LIMITS, silenceMinutes: null }, at(999))).toBeNull()
  })

  it('has one incident, which the next reading ends', () => {
    const first = fold([], read([0, 25]), at(70))
    expect(first).toMatchObject([{ kind: 'silent', beganMs: at(0), endedMs: null }])
    expect(fold(first, read([0, 25]), at(80))).toEqual(first)
    expect(fold(first, read([0, 25], [85, 25]), at(90))).toMatchObject([{ beganMs: at(0), endedMs: at(85) }])
  })
})

let made = 0
const heatOnly = { ...LIMITS, silenceMinutes: null }

/** The record after one look, with no database. */
const fold = (known: readonly KnownIncident[], readings: readonly Measured[], nowMs: number) =>
  foldWith(LIMITS, known, { readings, nowMs })
const foldHeat = (known: readonly KnownIncident[], readings: readonly Measured[], nowMs: number) =>
  foldWith(heatOnly, known, { readings, nowMs })

function foldWith(
  limits: WatchLimits,
  known: readonly KnownIncident[],
  { readings, nowMs }: { readings: readonly Measured[]; nowMs: number },
): KnownIncident[] {
  const lastMs = readings.length === 0 ? null : Math.max(...readings.map(({ atMs }) => atMs))
  const changes = foldIncidents({ readings, lastMs, limits, known, windowFromMs: START, nowMs })
  const kept = known
    .filter(({ id }) => !changes.withdrawn.includes(id))
    .map((incident) => ({ ...incident, ...changes.changed.find(({ id }) => id === incident.id) }))
  const begun = changes.begun.map(({ kind, beganMs, endedMs, extremeC }) => {
    made += 1
    return { id: `i${made}`, kind, beganMs, endedMs, extremeC }
  })
  return [...kept, ...begun]
}

const spans = (incidents: readonly KnownIncident[]) =>
  incidents
    .map(({ kind, beganMs, endedMs, extremeC }) => ({ kind, beganMs, endedMs, extremeC }))
    .sort((a, b) => a.beganMs - b.beganMs || a.kind.localeCompare(b.kind))

const day = fc.uniqueArray(
  fc.record({ minute: fc.integer({ min: 0, max: 1200 }), temperatureC: fc.integer({ min: 14, max: 36 }) }),
  { selector: ({ minute }) => minute, maxLength: 60 },
)

describe('the incidents of a zone', () => {
  it('are the same in whatever order its readings come, however often it is looked at', () => {
    fc.assert(
      fc.property(day, fc.array(fc.nat(999)), fc.integer({ min: 1, max: 9 }), (entries, keys, size) => {
        const readings = entries.map(({ minute, temperatureC }) => ({ atMs: at(minute), temperatureC }))
        const order = readings
          .map((reading, index) => ({ reading, key: keys[index % Math.max(1, keys.length)] ?? 0 }))
          .sort((a, b) => a.key - b.key)
          .map(({ reading }) => reading)
        let known: KnownIncident[] = []
        for (let end = size; end < order.length + size; end += size)
          known = foldHeat(known, order.slice(0, end), at(1300))
        const twice = foldHeat(known, order, at(1300))
        expect(twice).toEqual(known)
        expect(spans(known)).toEqual(spans(foldHeat([], readings, at(1300))))
      }),
    )
  })

  it('never stand twice over one time', () => {
    fc.assert(
      fc.property(day, (entries) => {
        let known: KnownIncident[] = []
        entries.forEach((_, index) => {
          const readings = entries
            .slice(0, index + 1)
            .map(({ minute, temperatureC }) => ({ atMs: at(minute), temperatureC }))
          known = foldHeat(known, readings, at(1201 + index))
        })
        for (const [index, one] of known.entries())
          for (const other of known.slice(index + 1)) {
            if (one.kind !== other.kind) continue
            const [first, second] = one.beganMs <= other.beganMs ? [one, other] : [other, one]
            expect(first.endedMs).not.toBeNull()
            expect(first.endedMs ?? 0).toBeLessThan(second.beganMs)
          }
      }),
    )
  })

  it('are one where a late reading joins two, and gone where their readings are taken back', () => {
    const two = foldHeat([], read([0, 31], [15, 29], [40, 31], [60, 29]), at(100))
    expect(two).toHaveLength(2)
    const joined = foldHeat(two, read([0, 31], [15, 31], [40, 31], [60, 29]), at(101))
    expect(joined).toMatchObject([{ id: two[0]?.id, beganMs: at(0), endedMs: at(60) }])
    expect(foldHeat(joined, read([0, 25]), at(102))).toEqual([])
  })

  it('that began under earlier limits are ended by the new ones, not taken away', () => {
    const known = [{ id: 'old', kind: 'too_hot' as const, beganMs: at(-60), endedMs: null, extremeC: 33 }]
    expect(
      foldWith({ ...heatOnly, highC: 32 }, known, { readings: read([5, 31]), nowMs: at(20) }),
    ).toMatchObject([{ id: 'old', beganMs: at(-60), endedMs: at(20), extremeC: 33 }])
    expect(foldHeat(known, read([5, 34]), at(20))).toMatchObject([
      { id: 'old', beganMs: at(-60), endedMs: null, extremeC: 34 },
    ])
  })
})

describe('calling', () => {
  it('is more frequent where it is too hot, rare once it is over, and ends two days later', () => {
    expect(nextCallMs({ kind: 'too_hot', endedMs: null }, at(0))).toBe(at(10))
    expect(nextCallMs({ kind: 'too_cold', endedMs: null }, at(0))).toBe(at(20))
    expect(nextCallMs({ kind: 'too_hot', endedMs: at(0) }, at(5))).toBe(at(365))
    expect(nextCallMs({ kind: 'too_hot', endedMs: at(0) }, at(47 * 60))).toBeNull()
    expect(isCalled({ kind: 'too_hot', endedMs: at(0) }, at(49 * 60))).toBe(false)
  })

  it('looks again when the delay is over, when it would be silent, and when the next call is due', () => {
    const look = { lastMs: at(5), limits: LIMITS, callsDueMs: [], nowMs: at(6) }
    expect(nextLookMs({ ...look, readings: read([5, 31]) })).toBe(at(15))
    expect(nextLookMs({ ...look, readings: read([5, 25]), callsDueMs: [at(9)] })).toBe(at(9))
    expect(nextLookMs({ ...look, readings: read([5, 25]), nowMs: at(60) })).toBe(at(65))
    expect(nextLookMs({ ...look, readings: read([5, 25]) })).toBe(at(21))
  })
})

it('a span is said on the clock of the wall', () => {
  const span = { beganMs: at(12 * 60 + 5), endedMs: at(14 * 60) }
  expect(saySpan(span, 'Europe/Berlin', '2026-07-10')).toBe('from 14:05 until 16:00')
  expect(saySpan({ ...span, endedMs: null }, 'Europe/Berlin', '2026-07-11')).toBe('since 10 Jul 14:05')
})
