import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { outlookByLine } from '@/lib/domain/food-demand/outlook'
import { DEFAULT_PREY_LINES, findPreyLine } from '@/lib/domain/prey/default-lines'
import type { PreyLine } from '@/lib/domain/prey/line'

const TODAY = '2026-11-02'

function outlookOf(line: PreyLine, { gives, needs }: { gives: number[]; needs: number[] }) {
  const demand = needs.map((mean, week) => ({
    from: addDays(TODAY, week * 7),
    until: addDays(TODAY, week * 7 + 6),
    lines: [{ line: line.id, mean, sd: 0, p10: mean, p90: mean, byStage: [] }],
  }))
  const [outlook] = outlookByLine(demand, {
    today: TODAY,
    weeks: needs.length,
    lines: [line],
    stock: new Map(),
    jars: [{ line: line.id, ahead: gives.flatMap((week) => Array(7).fill(week / 7)), isSuspect: false }],
    orders: [],
    planned: [],
    temperatureOf: () => 25,
    meanOf: () => 250,
  })
  return outlook!
}

describe('what is needed and what is coming', () => {
  const hydei = findPreyLine('hydei')!

  it('carries what nobody ate into the next week, less what dies until then', () => {
    const { weeks, isShort } = outlookOf(hydei, { gives: [700, 0, 0], needs: [300, 200, 200] })
    const lasting = (1 - hydei.supply.dailyDeathRate.value) ** 7
    expect(weeks.map(({ supply }) => Math.round(supply.stock))).toEqual([
      0,
      Math.round(400 * lasting),
      Math.round((400 * lasting - 200) * lasting),
    ])
    expect(weeks[1]!.short).toBe(0)
    expect(weeks[2]!.short).toBeGreaterThan(150)
    expect(isShort).toBe(true)
  })

  it('carries nothing of what does not keep for a week', () => {
    const line = DEFAULT_PREY_LINES.find(({ supply }) => supply.kind === 'bought')!
    const supply = { ...line.supply } as Extract<PreyLine['supply'], { kind: 'bought' }>
    supply.keepDays = { ...supply.keepDays, value: 5 }
    const { weeks } = outlookOf({ ...line, supply }, { gives: [700, 0], needs: [300, 200] })
    expect(weeks[1]).toMatchObject({ short: 200, supply: { stock: 0 } })
  })
})
