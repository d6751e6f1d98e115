import fc from 'fast-check'
import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { HeadCountBar } from '@/components/clutch/head-count-bar'
import { cutBar, listParts } from '@/components/clutch/head-count-parts'
import { HatchWindowAxis } from '@/components/hatch/hatch-window-axis'
import { MoultTimeline } from '@/components/individual/moult-timeline'
import { layOutTimeline, SIZE_PX } from '@/components/individual/moult-timeline-layout'
import { spreadLabels } from '@/components/ui/picture/spread-labels'
import { measureText } from '@/components/ui/picture/text-width'
import { addDays } from '@/lib/domain/calendar/date'

const counts = fc
  .record({
    together: fc.nat(200),
    single: fc.nat(200),
    sold: fc.nat(60),
    givenAway: fc.nat(9),
    dead: fc.nat(60),
    escaped: fc.nat(9),
    unaccounted: fc.integer({ min: -3, max: 20 }),
  })
  .map((parts) => ({ ...parts, hatched: Object.values(parts).reduce((sum, part) => sum + part, 0) }))

const ROOMS = [320, 520, 880]

describe('labels of pictures', () => {
  it('never lie over each other and never leave the picture', () => {
    const wish = fc.record({
      at: fc.integer({ min: -50, max: 950 }),
      width: fc.integer({ min: 4, max: 120 }),
    })
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 9 }), fc.constantFrom(...ROOMS), (wishes, room) => {
        const sorted = [...wishes].sort((a, b) => a.at - b.at)
        const lefts = spreadLabels(sorted, room)
        if (lefts === null) return
        lefts.forEach((left, position) => {
          const width = sorted[position]?.width ?? 0
          expect(left).toBeGreaterThanOrEqual(0)
          expect(left + width).toBeLessThanOrEqual(room + 0.001)
          const next = lefts[position + 1]
          if (next !== undefined) expect(next).toBeGreaterThanOrEqual(left + width + 7.999)
        })
      }),
    )
  })

  it('stay where they belong when there is room', () => {
    expect(
      spreadLabels(
        [
          { at: 10, width: 20 },
          { at: 100, width: 20 },
        ],
        320,
      ),
    ).toEqual([10, 100])
    expect(spreadLabels([{ at: 300, width: 60 }], 320)).toEqual([260])
    expect(
      spreadLabels(
        [
          { at: 0, width: 200 },
          { at: 9, width: 200 },
        ],
        320,
      ),
    ).toBeNull()
  })
})

describe('the head count of a clutch', () => {
  it('fills its bar, and a single lost nymph has a piece of its own', () => {
    fc.assert(
      fc.property(counts, fc.constantFrom(...ROOMS), (count, room) => {
        const segments = cutBar(listParts(count), room)
        expect(segments.length).toBe(listParts(count).filter((part) => part.count > 0).length)
        if (segments.length === 0) return
        const last = segments.at(-1)
        expect((last?.left ?? 0) + (last?.width ?? 0)).toBeCloseTo(room, 3)
        for (const segment of segments) expect(segment.width).toBeGreaterThanOrEqual(3.999)
      }),
    )
  })

  it('names every place an animal is in, at every width', () => {
    const count = {
      hatched: 134,
      together: 46,
      single: 58,
      sold: 12,
      givenAway: 2,
      dead: 9,
      escaped: 1,
      unaccounted: 6,
    }
    const markup = renderToStaticMarkup(createElement(HeadCountBar, { count }))
    for (const word of ['together', 'single', 'sold', 'given away', 'dead', 'escaped', 'unaccounted'])
      expect(markup.split(`>${word}</text>`).length - 1, word).toBe(ROOMS.length)
    expect(markup).toContain('134 hatched: 46 together, 58 single, 12 sold')
  })

  it('says "about" until someone has counted', () => {
    const count = {
      hatched: 140,
      together: 140,
      single: 0,
      sold: 0,
      givenAway: 0,
      dead: 0,
      escaped: 0,
      unaccounted: 0,
    }
    expect(renderToStaticMarkup(createElement(HeadCountBar, { count, isAbout: true }))).toContain(
      'about 140 hatched',
    )
  })
})

const today = '2026-11-24'

/** An animal that took these days per instar and is still in the last one. */
function animal(days: number[], windowInDays: number) {
  let on = addDays(today, -days.reduce((sum, length) => sum + length, 0))
  const steps = days.map((length, moults) => {
    const from = on
    on = addDays(on, length)
    const isRunning = moults === days.length - 1
    return {
      label: `${moults + 1}th`,
      moults,
      from,
      to: isRunning ? null : on,
      days: length,
      lengthMm: 6 * 1.3 ** moults,
      state: isRunning ? ('running' as const) : ('certain' as const),
    }
  })
  const p10 = addDays(today, windowInDays)
  return {
    steps: [...steps, { ...steps[0]!, label: 'next', to: null, days: null, state: 'expected' as const }],
    today,
    window: { p10, p50: addDays(p10, 4), p90: addDays(p10, 9) },
    leaveAlone: { from: addDays(p10, -1), until: addDays(p10, 12) },
  }
}

describe('the moult timeline', () => {
  it('never writes one instar over another, however many there were', () => {
    const lives = fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 10 })
    fc.assert(
      fc.property(lives, fc.integer({ min: -6, max: 40 }), fc.constantFrom(...ROOMS), (days, ahead, room) => {
        const { words, hush } = layOutTimeline(animal(days, ahead), room)
        const spans = words.map((word) => ({
          left: word.left,
          right:
            word.left +
            Math.max(...[word.first, word.second].map((text) => measureText(text, { sizePx: SIZE_PX }))),
        }))
        spans.forEach((span, position) => {
          expect(span.left).toBeGreaterThanOrEqual(0)
          expect(span.right).toBeLessThanOrEqual(room + 0.001)
          const next = spans[position + 1]
          if (next) expect(next.left).toBeGreaterThan(span.right)
        })
        const last = spans.at(-1)
        if (hush && hush.row < 2 && last) expect(hush.label).toBeGreaterThan(last.right)
      }),
    )
  })

  it('always names the instar that is running now', () => {
    for (const room of ROOMS)
      expect(layOutTimeline(animal([12, 13, 14, 16, 20, 26, 34, 1], 2), room).words.at(-1)?.second).toBe(
        '1 d so far',
      )
  })

  it('says its window in words for those who do not see it', () => {
    const markup = renderToStaticMarkup(createElement(MoultTimeline, { timeline: animal([13, 14], 4) }))
    expect(markup).toContain('next expected 28 Nov – 7 Dec, most likely 2 Dec.')
    expect(markup).toContain('Leave alone 27 Nov – 10 Dec.')
  })
})

describe('the axis of hatches', () => {
  it('gives every egg case its window in the table and in the drawing', () => {
    const hatch = {
      code: 'E-12',
      scientificName: 'Hymenopus coronatus',
      warmSince: '2026-10-14',
      coldRest: null,
      window: { p10: '2026-11-24', p50: '2026-11-27', p90: '2026-12-02' },
      state: 'due' as const,
      word: 'may hatch now',
    }
    const markup = renderToStaticMarkup(createElement(HatchWindowAxis, { windows: [hatch], today }))
    expect(markup).toContain('E-12 24 Nov – 2 Dec, may hatch now.')
    expect(markup.split('>E-12</text>').length - 1).toBe(ROOMS.length)
  })

  it('writes no days across the sign from which an egg case is overdue', () => {
    const hatch = {
      code: 'E-12',
      scientificName: 'Hymenopus coronatus',
      warmSince: '2026-10-14',
      coldRest: null,
      window: { p10: '2026-11-29', p50: '2026-12-01', p90: '2026-12-06' },
      state: 'fine' as const,
      word: 'expected',
    }
    const later = {
      ...hatch,
      code: 'E-13',
      window: { p10: '2027-01-20', p50: '2027-02-01', p90: '2027-02-10' },
    }
    const windows = [{ ...hatch, overdueOn: '2026-12-11' }, later]
    const markup = renderToStaticMarkup(createElement(HatchWindowAxis, { windows, today }))
    let written = 0
    for (const drawing of markup.split('<svg').slice(1)) {
      const sign = Number(drawing.match(/<path d="M([\d.]+) [\d.]+l5 /)?.[1])
      const days = Number(
        drawing.match(/<text x="([\d.]+)" y="[\d.]+" font-size="13" class="fill-ink">29 Nov – 6 Dec</)?.[1] ??
          Number.NaN,
      )
      if (Number.isNaN(days)) continue
      expect(Number.isFinite(sign)).toBe(true)
      written += 1
      expect(sign < days || sign > days + measureText('29 Nov – 6 Dec', { sizePx: 13 })).toBe(true)
    }
    expect(written).toBeGreaterThan(0)
  })
})
