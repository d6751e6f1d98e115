import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { type AppetiteSettings, appetiteOf } from '../food-demand/appetite'
import type { PreyLine } from '../prey/line'
import type { HatchGrowth, HatchLoad } from './load'

/** What the nymphs of one hatch eat in a week: by line items, the cultures or packs that give them, and what those cost. */
export type WeekFood = {
  week: PlainDate
  lines: { id: string; name: string; items: number; units: number; isCulture: boolean }[]
  costMinor: number
}

/** By the first line of those kept that each stage takes. A culture gives its mean, less those that crash. */
export function foodOfHatch(
  load: HatchLoad,
  known: {
    profile: CareProfile
    growth: HatchGrowth
    lines: readonly PreyLine[]
    appetite?: Partial<AppetiteSettings>
  },
): WeekFood[] {
  const stages = known.growth.stages.map((series) => {
    const animal = { sex: series.sex, moults: series.moults ?? 0, isAdult: series.moults === null }
    const room = { lines: known.lines, settings: known.appetite }
    return { mean: series.mean, first: appetiteOf(known.profile, animal, room).accepts[0] ?? null }
  })
  return load.weeks.map(({ week }) => {
    const items = new Map<string, number>()
    for (let day = 0; day < 7; day += 1) {
      const place = daysBetween(load.hatchOn, addDays(week, day))
      for (const { mean, first } of stages) {
        const animals = place < 0 ? 0 : load.nymphs * (mean[place] ?? 0)
        if (first && animals > 0)
          items.set(first.line, (items.get(first.line) ?? 0) + animals * first.itemsPerAnimalDay)
      }
    }
    const lines = [...items].flatMap(([id, count]) => {
      const line = known.lines.find((one) => one.id === id)
      return line && count >= 0.5 ? [{ ...unitsOf(line, count), id, name: line.name, items: count }] : []
    })
    const costMinor = lines.reduce((sum, one) => sum + one.costMinor, 0)
    return { week, lines: lines.map(({ costMinor: _, ...line }) => line), costMinor }
  })
}

function unitsOf(line: PreyLine, items: number) {
  const { supply } = line
  if (supply.kind === 'culture') {
    const { mean, crashChance, crashShare } = supply.yield.value
    const units = items / Math.max(1, mean * (1 - crashChance * (1 - crashShare)))
    return { units, isCulture: true, costMinor: units * supply.startCostMinor.value }
  }
  const share = supply.kind === 'pupae' ? supply.emergingShare.value : 1
  const units = items / Math.max(1, supply.packSize.value * share)
  return { units, isCulture: false, costMinor: units * supply.packCostMinor.value }
}
