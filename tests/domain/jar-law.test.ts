import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { crowdingShare, lawOfJar, type PlacedJar } from '@/lib/domain/culture/jar-law'
import { listJarWords } from '@/lib/domain/culture/jar-word'
import { workOutShelf } from '@/lib/domain/culture/room-shelf'
import { onsetDay } from '@/lib/domain/culture/running'
import { type JarRecord, lawOfLine } from '@/lib/domain/culture/shelf'
import { expectUncounted, uncountedSince } from '@/lib/domain/culture/uncounted'
import { roomCase } from '@/lib/domain/food-demand/room-case'
import type { CaseCulture, FoodCase } from '@/lib/domain/food-plan/case'
import { listJarNotes } from '@/lib/domain/food-plan/jar-note'
import { layOutRoom } from '@/lib/domain/food-plan/room'
import { findPreyLine } from '@/lib/domain/prey/default-lines'
import { mergeLines } from '@/lib/domain/prey/kept-line'

const LINE = findPreyLine('melanogaster')!
const SUPPLY = LINE.supply.kind === 'culture' ? LINE.supply : undefined
const STARTED = '2026-11-01'
const WARMTH = new Map([
  ['warm', 24.5],
  ['cool', 18],
  ['cellar', 8],
  ['hot', 29],
])

const lawIn = (zoneId: string) => {
  const temperatureC = WARMTH.get(zoneId) ?? 24.5
  const law = lawOfLine(LINE, { temperatureC })!
  const { thresholdC, referenceC } = SUPPLY!.curve.value
  return { law, rate: Math.max(0, (temperatureC - thresholdC) / (referenceC - thresholdC)) }
}
const lawOf = (jar: Partial<PlacedJar>) =>
  lawOfJar({ startedOn: STARTED, zoneId: 'warm', ...jar }, { lawIn, discardAfterDays: 35, usualStarters: 45 })
const moved = (day: number, to: string, from = 'warm') => ({
  zoneId: to,
  moves: [{ on: addDays(STARTED, day), fromZoneId: from, toZoneId: to }],
})
const sum = (list: readonly number[]) => list.reduce((total, each) => total + each, 0)

describe('a jar that is carried elsewhere', () => {
  it('does what its line does as long as it stays', () => {
    expect(lawOf({})).toEqual({ law: lawIn('warm').law, discardAfterDays: 35, crowding: 1 })
    lawOf(moved(5, 'warm')).law.curve.forEach((share, day) => {
      expect(share).toBeCloseTo(lawIn('warm').law.curve[day]!, 12)
    })
  })

  it('gives its flies later where it is cooler, over more days and no fewer of them, and is kept longer', () => {
    const [stays, goes] = [lawOf({}), lawOf(moved(5, 'cool'))]
    expect(onsetDay(goes.law.curve)).toBeGreaterThan(onsetDay(stays.law.curve) + 2)
    expect(sum(goes.law.curve)).toBeCloseTo(sum(stays.law.curve), 2)
    expect(Math.max(...goes.law.curve)).toBeLessThan(Math.max(...stays.law.curve))
    expect(goes.discardAfterDays).toBeGreaterThan(45)
    // All its life in the cool, it is as one that was started there.
    const always = lawOf({ zoneId: 'cool', moves: [{ on: STARTED, fromZoneId: 'cool', toZoneId: 'cool' }] })
    expect(onsetDay(always.law.curve)).toBe(onsetDay(lawIn('cool').law.curve))
  })

  it('gives them sooner where it is warmer', () => {
    const [cool, warmed] = [lawOf({ zoneId: 'cool' }), lawOf(moved(10, 'warm', 'cool'))]
    expect(onsetDay(warmed.law.curve)).toBeLessThan(onsetDay(cool.law.curve))
    expect(warmed.discardAfterDays).toBeLessThan(35)
  })

  it('stands still below what the line needs, and goes on from there', () => {
    const there = addDays(STARTED, 8)
    const back = addDays(STARTED, 18)
    const rested = lawOf({
      zoneId: 'warm',
      moves: [
        { on: back, fromZoneId: 'cellar', toZoneId: 'warm' },
        { on: there, fromZoneId: 'warm', toZoneId: 'cellar' },
      ],
    })
    const plain = lawOf({})
    expect(sum(rested.law.curve.slice(8, 18))).toBe(0)
    expect(rested.law.curve[30]).toBeCloseTo(plain.law.curve[20]!, 9)
    expect(rested.discardAfterDays).toBe(45)
  })

  it('never gives more than all, wherever it goes and when', () => {
    const zone = fc.constantFrom('warm', 'cool', 'cellar', 'hot')
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(60), zone), { maxLength: 4 }), (steps) => {
        const inOrder = steps.sort((a, b) => a[0] - b[0])
        const moves = inOrder.map(([day, toZoneId], index) => ({
          on: addDays(STARTED, day),
          fromZoneId: inOrder[index - 1]?.[1] ?? 'warm',
          toZoneId,
        }))
        const { law, discardAfterDays } = lawOf({ moves, zoneId: moves.at(-1)?.toZoneId ?? 'warm' })
        expect(sum(law.curve)).toBeLessThan(1.000001)
        expect(Math.min(...law.curve)).toBeGreaterThanOrEqual(0)
        expect(discardAfterDays).toBeLessThanOrEqual(70)
      }),
    )
  })

  it('says so in words', () => {
    const jar = { startedOn: STARTED, ...moved(5, 'cool'), starters: 150 }
    const words = listJarWords(jar, lawOf(jar), {
      today: addDays(STARTED, 9),
      unit: 'celsius',
      curve: SUPPLY!.curve.value,
      usualStarters: 45,
      discardAfterDays: 35,
      zoneName: (id) => (id === 'cool' ? 'Cool corner' : 'Fly shelf'),
      temperatureOf: (id) => WARMTH.get(id)!,
    })
    expect(words[0]).toMatch(
      /^Stood in Fly shelf until 6 Nov, since then in Cool corner \(18 °C\)\. A day there/,
    )
    expect(words[0]).toMatch(/kept \d+ days longer/)
    expect(words[1]).toMatch(/^150 starters where about 45 are usual: too full/)
  })
})

describe('a jar with more or fewer starters than usual', () => {
  it('gives most with the usual number and less with any other', () => {
    expect(crowdingShare(null, 45)).toBe(1)
    expect(crowdingShare(45, 45)).toBe(1)
    for (const starters of [5, 20, 90, 200]) expect(crowdingShare(starters, 45)).toBeLessThan(0.9)
    expect(crowdingShare(200, 45)).toBeLessThan(crowdingShare(90, 45))
    expect(lawOf({ starters: 150 }).law.mean).toBeLessThan(0.4 * lawOf({}).law.mean)
  })
})

const TODAY = addDays(STARTED, 20)
const jar = (more: Partial<JarRecord> = {}): JarRecord => ({
  id: 'one',
  label: 'J-1',
  line: 'melanogaster',
  zoneId: 'warm',
  shelf: '',
  startedOn: STARTED,
  startersFrom: null,
  crashedOn: null,
  mitesOn: null,
  mouldOn: null,
  endedOn: null,
  harvests: [],
  ...more,
})

describe('flies in a jar that nobody has counted', () => {
  const { law } = lawIn('warm')
  const expectAt = (harvested: { on: string; count: number }[], countedOn: string | null = null) => {
    const culture = { startedOn: STARTED, harvested }
    return expectUncounted(culture, law, {
      since: uncountedSince(culture, countedOn),
      today: TODAY,
      survival: 0.9,
      share: 1,
    })
  }

  it('are what came and has not died, with the spread of what a jar gives', () => {
    const mean = law.mean * (1 - law.crashChance + law.crashChance * law.crashShare)
    let alive = 0
    for (let day = 0; day < 20; day += 1) alive = (alive + mean * law.curve[day]!) * 0.9
    const found = expectAt([])
    expect(found.mean / alive).toBeGreaterThan(0.93)
    expect(found.mean / alive).toBeLessThan(1.07)
    expect(found.low).toBeLessThan(0.8 * found.mean)
    expect(found.high).toBeGreaterThan(1.2 * found.mean)
  })

  it('are only those since the last harvest, or since flies of the line were counted', () => {
    expect(expectAt([{ on: addDays(TODAY, -1), count: 60 }]).mean).toBe(0)
    const two = expectAt([{ on: addDays(TODAY, -3), count: 250 }])
    expect(two.mean).toBeGreaterThan(10)
    expect(two.mean).toBeLessThan(expectAt([]).mean / 2)
    expect(expectAt([], addDays(TODAY, -1)).mean).toBe(0)
    expect(expectAt([], addDays(STARTED, -4)).mean).toBe(expectAt([]).mean)
  })

  it('are supply of the plan from its first day on, differing from future to future', () => {
    const withJar = (culture: CaseCulture): FoodCase => ({ ...smallCase(), cultures: [culture] })
    const plain = { id: 'J-1', line: 'melanogaster', startedOn: STARTED }
    const firstDay = (culture: CaseCulture) =>
      layOutRoom(withJar(culture), { scenarios: 64, seed: 'x' }).scenarios.map(({ supply }) => supply[0]![0]!)
    const [without, counted] = [firstDay(plain), firstDay({ ...plain, uncountedSince: STARTED })]
    const mean = (list: number[]) => sum(list) / list.length
    const more = mean(counted) - mean(without)
    expect(more).toBeGreaterThan(0.85 * expectAt([]).mean)
    expect(more).toBeLessThan(1.15 * expectAt([]).mean)
    expect(Math.max(...counted)).toBeGreaterThan(2 * Math.min(...counted))
    const gone = firstDay({ ...plain, uncountedSince: STARTED, until: TODAY })
    expect(Math.max(...gone)).toBe(0)
  })
})

describe('the case of a room', () => {
  const shelfOf = (jars: JarRecord[]) =>
    workOutShelf({
      lines: mergeLines([]),
      jars,
      temperatureC: WARMTH,
      today: TODAY,
      days: 60,
    })
  const caseOf = (jars: JarRecord[], countedOn: ReadonlyMap<string, string> | null = new Map()) =>
    roomCase({
      today: TODAY,
      weeks: 6,
      demand: { classes: [], demand: [], hatches: [], unfed: [] } as never,
      lines: [LINE],
      roomOf: () => ({ zoneId: 'warm', temperatureC: 24.5, learned: undefined }),
      jars,
      laws: new Map(shelfOf(jars).standing.map((each) => [each.jar.id, each])),
      countedOn,
      suspicions: new Map(),
      stock: new Map(),
      orders: [],
      limits: {},
      serviceLevel: 0.95,
    })

  it('counts on what is in a jar nobody has harvested, and says so', () => {
    const [usual] = caseOf([jar()]).cultures ?? []
    expect(usual).toMatchObject({ uncountedSince: STARTED })
    expect(usual).not.toHaveProperty('curve')
    expect(usual).not.toHaveProperty('yieldShare')
    expect(caseOf([jar()], null).cultures?.[0]).not.toHaveProperty('uncountedSince')
    const [note] = listJarNotes(caseOf([jar()]))
    expect(note).toMatch(
      /^1 jar of Fruit fly, melanogaster holds about \d+ flies \(\d+ to \d+\) that stand in no harvest/,
    )
    const harvested = jar({ harvests: [{ on: addDays(TODAY, -1), count: 90 }] })
    expect(listJarNotes(caseOf([harvested]))).toEqual([])
  })

  it('gives a jar that was moved or crowded its own curve, yield and end, and says which and by how much', () => {
    const cooled = jar({ id: 'two', label: 'J-2', ...moved(6, 'cool') })
    const full = jar({ id: 'three', label: 'J-3', starters: 160 })
    const [first, second] = caseOf([cooled, full]).cultures ?? []
    expect(onsetDay(first!.curve!)).toBeGreaterThan(onsetDay(lawIn('warm').law.curve))
    expect(first!.discardAfterDays).toBeGreaterThan(40)
    expect(second!.yieldShare).toBeLessThan(0.4)
    const notes = listJarNotes(caseOf([cooled, full], null))
    expect(notes[0]).toMatch(
      /^Fruit fly, melanogaster J-2 stood cooler than the others: .* later by up to \d+ days\.$/,
    )
    expect(notes[1]).toMatch(/^Fruit fly, melanogaster J-3 gives less than a usual jar/)
  })

  it('lets the plan follow: a cooled jar gives later, and its place is taken for longer', () => {
    const plain = caseOf([jar()], null)
    const cooled = caseOf([jar(moved(6, 'cool'))], null)
    const supply = (foodCase: FoodCase) => {
      const { scenarios } = layOutRoom(foodCase, { scenarios: 32, seed: 'x' })
      return scenarios[0]!.supply[0]!.map(
        (_, day) => sum(scenarios.map((each) => each.supply[0]![day]!)) / 32,
      )
    }
    const [before, after] = [supply(plain), supply(cooled)]
    const meanDay = (days: Float64Array) => sum([...days].map((flies, day) => flies * day)) / sum([...days])
    expect(sum([...after.slice(0, 5)])).toBeLessThan(sum([...before.slice(0, 5)]))
    expect(meanDay(after)).toBeGreaterThan(meanDay(before) + 3)
    expect(sum([...after])).toBeGreaterThan(sum([...before]))
    const standing = (foodCase: FoodCase) =>
      layOutRoom(foodCase, { scenarios: 4, seed: 'x' }).standing[0]!.filter((count) => count > 0).length
    expect(standing(cooled)).toBeGreaterThan(standing(plain))
  })
})

describe('what a room learns', () => {
  it('leaves out jars that stood elsewhere or were made too full', () => {
    const finished = (more: Partial<JarRecord>, index: number) =>
      jar({
        id: `done-${index}`,
        startedOn: '2026-08-01',
        endedOn: '2026-09-10',
        harvests: [12, 16, 20, 25, 30].map((day) => ({ on: addDays('2026-08-01', day), count: 40 })),
        ...more,
      })
    const learnedOf = (jars: JarRecord[]) =>
      workOutShelf({ lines: mergeLines([]), jars, temperatureC: WARMTH, today: TODAY, days: 10 }).learned[0]
        ?.learned.cultures
    expect(daysBetween('2026-08-01', TODAY)).toBeLessThan(365)
    expect(learnedOf([finished({}, 1), finished({}, 2)])).toBe(2)
    const move = { on: '2026-08-10', fromZoneId: 'cool', toZoneId: 'warm' }
    expect(learnedOf([finished({}, 1), finished({ moves: [move] }, 2), finished({ starters: 200 }, 3)])).toBe(
      1,
    )
  })
})

function smallCase(): FoodCase {
  const { curve, mean, cv, crashChance } = lawIn('warm').law
  return {
    from: TODAY,
    weeks: 3,
    lines: [
      {
        id: 'melanogaster',
        kind: 'culture',
        yield: { mean, cv, crashChance },
        curve,
        starters: 45,
        startCost: 120,
        starterCost: 400,
        dailyDeathRate: 0.1,
        discardAfterDays: 35,
      },
    ],
    classes: [{ id: 'small', shortageCost: 50, accepts: [{ line: 'melanogaster', itemsPerAnimalDay: 3 }] }],
    demand: [],
  }
}
