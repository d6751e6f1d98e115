import type { ValueSource } from '../care-profile/value'
import { listPreyValues, withPreyValue } from './edit-line'
import type { PreyLine } from './line'

export type FigureUnit =
  | 'mm'
  | 'days'
  | 'flies'
  | 'items'
  | 'share'
  | 'minor'
  | 'minutes'
  | '°C'
  | '×'
  | 'weekdays'
  | ''

/** One figure of a line, as small as it can be changed by itself. */
export type Figure = {
  path: string
  label: string
  unit: FigureUnit
  value: number | null | readonly number[]
  source: ValueSource
  note: string | null
  isCost: boolean
}

type Known = [label: string, unit: FigureUnit]

const WORDS: Record<string, Known> = {
  'lengthMm.min': ['Length, smallest', 'mm'],
  'lengthMm.max': ['Length, largest', 'mm'],
  'takenByLengthMm.min': ['Taken by animals from', 'mm'],
  'takenByLengthMm.max': ['Taken by animals up to', 'mm'],
  'supply.yield.mean': ['Yield of a culture', 'flies'],
  'supply.yield.cv': ['Cultures differ by', 'share'],
  'supply.yield.crashChance': ['Chance of a crash', 'share'],
  'supply.yield.crashShare': ['A crash still gives', 'share'],
  'supply.curve.layingShape': ['Laying, shape', ''],
  'supply.curve.layingScaleDays': ['Laying, scale', 'days'],
  'supply.curve.developmentDays': ['Egg to adult', 'days'],
  'supply.curve.developmentLogSd': ['Egg to adult, spread', 'share'],
  'supply.curve.referenceC': ['… at', '°C'],
  'supply.curve.thresholdC': ['No development below', '°C'],
  'supply.curve.harmfulAboveC': ['Harmed above', '°C'],
  'supply.starters': ['Starters of a culture', 'items'],
  'supply.startCostMinor': ['Jar and medium', 'minor'],
  'supply.starterCostMinor': ['Starters, bought', 'minor'],
  'supply.minutesPerStart': ['Work of a start', 'minutes'],
  'supply.dailyDeathRate': ['Die a day', 'share'],
  'supply.discardAfterDays': ['Discard after', 'days'],
  'supply.minimumBatches': ['Batches of different age, at least', ''],
  'supply.packSize': ['Items in a pack', 'items'],
  'supply.packCostMinor': ['A pack costs', 'minor'],
  'supply.orderWeekdays': ['Supplier takes orders on', 'weekdays'],
  'supply.leadDays': ['From order to arrival', 'days'],
  'supply.emergence.minDays': ['First flies after warming', 'days'],
  'supply.emergence.maxDays': ['Last flies after warming', 'days'],
  'supply.emergence.referenceC': ['… at', '°C'],
  'supply.emergence.thresholdC': ['None below', '°C'],
  'supply.emergingShare': ['Emerge at all', 'share'],
  'supply.fridgeDays.min': ['Keep in the fridge, surely', 'days'],
  'supply.fridgeDays.max': ['Keep in the fridge, at most', 'days'],
  'supply.keepDays': ['Keep for', 'days'],
}

/** Every figure of a line in the order of its table, each with the source of the value it is part of. */
export function listFigures(line: PreyLine): Figure[] {
  return listPreyValues(line).flatMap(({ path, value, source, note }) =>
    partsOf(path, value).flatMap(({ path: own, value: part, label }): Figure[] => {
      const [words, unit] = WORDS[own] ?? [label, '×']
      if (words === null || !(part === null || typeof part === 'number' || Array.isArray(part))) return []
      return [
        {
          path: own,
          label: words,
          unit,
          value: part as Figure['value'],
          source,
          note,
          isCost: unit === 'minor',
        },
      ]
    }),
  )
}

type Part = { path: string; value: unknown; label: string | null }

function partsOf(path: string, value: unknown): Part[] {
  if (path === 'standsFor')
    return (value as { item: string; counts: number }[]).map(({ item, counts }, index) => ({
      path: `standsFor.${index}.counts`,
      value: counts,
      label: `One counts as ${item.replaceAll('-', ' ')}`,
    }))
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return [{ path, value, label: null }]
  return Object.entries(value).map(([name, part]) => ({ path: `${path}.${name}`, value: part, label: null }))
}

export type FigureChange = { path: string; value: number | null | readonly number[]; note: string }

/**
 * The line with one figure replaced by the room's own, or what is wrong with it in words. Ends of a range have to
 * stay in order, shares within 0 and 1.
 */
export function changeFigure(
  line: PreyLine,
  change: FigureChange,
): { status: 'ok'; line: PreyLine } | { status: 'wrong'; message: string } {
  const figure = listFigures(line).find(({ path }) => path === change.path)
  if (!figure) return wrong('is not a figure of this line')
  const problem = problemOf(figure, change.value)
  if (problem) return wrong(problem)
  const known = listPreyValues(line).find(
    ({ path }) => path === change.path || change.path.startsWith(`${path}.`),
  )
  if (!known) return wrong('is not a figure of this line')
  const inside = change.path.slice(known.path.length + 1)
  const value = inside === '' ? change.value : withPart(known.value, inside, change.value)
  const edited = withPreyValue(line, known.path, { value, note: change.note })
  if (!edited) return wrong('Enter a number.')
  const order = problemOfOrder(value)
  return order ? wrong(order) : { status: 'ok', line: edited }
}

function wrong(message: string): { status: 'wrong'; message: string } {
  return { status: 'wrong', message }
}

function withPart(value: unknown, inside: string, part: Figure['value']): unknown {
  if (Array.isArray(value)) {
    const [index = '', name = ''] = inside.split('.')
    return value.map((each, place) => (String(place) === index ? { ...each, [name]: part } : each))
  }
  return typeof value === 'object' && value !== null ? { ...value, [inside]: part } : value
}

function problemOf({ path, unit }: Figure, value: Figure['value']): string | null {
  if (unit === 'weekdays')
    return Array.isArray(value) && value.length > 0 && value.every((day) => day >= 1 && day <= 7)
      ? null
      : 'Choose at least one day.'
  if (value === null) return path === 'takenByLengthMm.max' ? null : 'Enter a number.'
  if (typeof value !== 'number' || !Number.isFinite(value)) return 'Enter a number.'
  if (unit === '°C') return value < -10 || value > 60 ? 'Between −10 and 60 °C.' : null
  if (value < 0) return 'Not below nothing.'
  if (unit === 'share' && path.endsWith('cv')) return value > 2 ? 'At most 2.' : null
  if (unit === 'share') return value > 1 ? 'At most 1, which is all of them.' : null
  if (unit === 'days' && value > 365) return 'At most a year.'
  return MORE_THAN_NOTHING.test(path) && value === 0 ? 'More than nothing, please.' : null
}

/** Nothing of these would make a line that gives nothing for ever, or be divided by. A yield of nothing is a line that is not planned with. */
const MORE_THAN_NOTHING = /(packSize|counts|layingShape|layingScaleDays|developmentDays|discardAfterDays)$/

function problemOfOrder(value: unknown): string | null {
  if (typeof value !== 'object' || value === null) return null
  const ends = new Map<string, unknown>(Object.entries(value))
  const isTurned = (low: string, high: string) => {
    const [from, until] = [ends.get(low), ends.get(high)]
    return typeof from === 'number' && typeof until === 'number' && from > until
  }
  return isTurned('min', 'max') || isTurned('minDays', 'maxDays')
    ? 'The smaller end is above the larger one.'
    : null
}
