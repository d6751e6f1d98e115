import { addDays, daysBetween } from '../calendar/date'
import type { FoodCase } from './case'

/** What cannot be right in a case, with the path of the value. */
export type CaseFault = { path: string; message: string }

/**
 * What no shape can say: names that are meant but not listed, names given twice, cultures from the future, lines that
 * give nothing. O(rows).
 */
export function checkFoodCase(foodCase: FoodCase): CaseFault[] {
  return [
    ...namedTwice(foodCase),
    ...faultyLines(foodCase),
    ...unknownNames(foodCase),
    ...faultyCultures(foodCase),
    ...faultyNeeds(foodCase),
  ]
}

function namedTwice({ lines, classes, hatches = [] }: FoodCase): CaseFault[] {
  const lists = Object.entries({ lines, classes, hatches })
  return lists.flatMap(([list, entries]) => {
    const seen = new Set<string>()
    return entries.flatMap(({ id }, index): CaseFault[] => {
      if (!seen.has(id)) {
        seen.add(id)
        return []
      }
      return [{ path: `${list}.${index}.id`, message: `${id} stands here twice.` }]
    })
  })
}

function faultyLines({ lines }: FoodCase): CaseFault[] {
  return lines.flatMap((line, index): CaseFault[] => {
    if (line.kind === 'bought') return []
    const at = `lines.${index}`
    const faults: CaseFault[] = []
    if (!(line.yield.mean > 0))
      faults.push({
        path: `${at}.yield.mean`,
        message: `A culture of ${line.id} would give nothing: more than 0.`,
      })
    const sum = line.curve.reduce((total, share) => total + share, 0)
    if (!(sum > 0)) faults.push({ path: `${at}.curve`, message: `Nothing of ${line.id} would ever emerge.` })
    if (sum > 1.02) faults.push({ path: `${at}.curve`, message: 'The shares come to more than 1.' })
    const first = line.curve.findIndex((share) => share > 0)
    if (sum > 0 && first >= line.discardAfterDays)
      faults.push({
        path: `${at}.discardAfterDays`,
        message: `Cultures of ${line.id} would be discarded before their first day of flies.`,
      })
    return faults
  })
}

function unknownNames(foodCase: FoodCase): CaseFault[] {
  const { classes, demand, stock = [], cultures = [], deliveries = [], hatches = [] } = foodCase
  const lines = new Map(foodCase.lines.map(({ id, kind }) => [id, kind]))
  const known = new Set(classes.map(({ id }) => id))
  const line = (path: string, id: string, kind?: 'culture' | 'bought'): CaseFault[] => {
    const found = lines.get(id)
    if (found === undefined) return [{ path, message: `There is no line ${id} in this case.` }]
    if (kind && found !== kind)
      return [{ path, message: `${id} is not ${kind === 'culture' ? 'a culture' : 'bought'}.` }]
    return []
  }
  const taker = (path: string, id: string): CaseFault[] =>
    known.has(id) ? [] : [{ path, message: `There is no class ${id} in this case.` }]
  return [
    ...classes.flatMap(({ accepts }, at) =>
      accepts.flatMap((each, place) => line(`classes.${at}.accepts.${place}.line`, each.line)),
    ),
    ...demand.flatMap((row, at) => taker(`demand.${at}.class`, row.class)),
    ...stock.flatMap((row, at) => line(`stock.${at}.line`, row.line)),
    ...cultures.flatMap((row, at) => line(`cultures.${at}.line`, row.line, 'culture')),
    ...deliveries.flatMap((row, at) => line(`deliveries.${at}.line`, row.line, 'bought')),
    ...hatches.flatMap(({ needsByAgeDays }, at) =>
      needsByAgeDays.flatMap((need, place) =>
        taker(`hatches.${at}.needsByAgeDays.${place}.class`, need.class),
      ),
    ),
  ]
}

function faultyCultures({ from, cultures = [] }: FoodCase): CaseFault[] {
  return cultures.flatMap(({ startedOn, harvested = [], uncountedSince, curve = [] }, at): CaseFault[] => [
    ...(uncountedSince && uncountedSince < startedOn
      ? [{ path: `cultures.${at}.uncountedSince`, message: 'Lies before the culture was started.' }]
      : []),
    ...(curve.reduce((total, share) => total + share, 0) > 1.02
      ? [{ path: `cultures.${at}.curve`, message: 'The shares come to more than 1.' }]
      : []),
    ...(startedOn > from
      ? [{ path: `cultures.${at}.startedOn`, message: `Lies after ${from}, the first day of the plan.` }]
      : []),
    ...harvested.flatMap(({ on }, place): CaseFault[] => {
      const path = `cultures.${at}.harvested.${place}.on`
      if (on > from) return [{ path, message: `Lies after ${from}, the first day of the plan.` }]
      return on < startedOn ? [{ path, message: 'Lies before the culture was started.' }] : []
    }),
  ])
}

function faultyNeeds({ from, weeks, demand }: FoodCase): CaseFault[] {
  const until = addDays(from, weeks * 7)
  return demand.flatMap(({ on }, at): CaseFault[] =>
    on < from
      ? [{ path: `demand.${at}.on`, message: `Lies before ${from}; the plan ends before ${until}.` }]
      : [],
  )
}

/** What a case leaves the plan unable to do, said in words; the plan is made for the rest. */
export function listCaseNotes(foodCase: FoodCase): string[] {
  const { classes, lines, limits, from, weeks, demand, hatches = [] } = foodCase
  const hungry = new Set([
    ...demand.filter(({ animals }) => animals > 0).map((row) => row.class),
    ...hatches.flatMap(({ needsByAgeDays }) => needsByAgeDays.map((need) => need.class)),
  ])
  const unfed = classes.filter(({ id, accepts }) => hungry.has(id) && accepts.length === 0)
  const late = demand.filter(({ on }) => daysBetween(from, on) >= weeks * 7).length
  const cultures = lines.filter(({ kind }) => kind === 'culture')
  const barren = lines.filter((line) => line.kind === 'culture' && !(line.yield.mean > 0))
  return [
    ...(foodCase.unfed ?? []).map(
      ({ species, stage, animals }) =>
        `No line that is kept feeds ${species}, ${stage} (up to ${Math.ceil(animals)} of them): they are left out; the plan is for the others.`,
    ),
    ...(barren.length > 0
      ? [
          `By its figures a culture of ${barren.map(({ id, name }) => name ?? id).join(', ')} gives nothing: none is started.`,
        ]
      : []),
    ...unfed.map(
      ({ id, name }) =>
        `No line feeds ${name ?? id}: all of it is counted as missed; the plan is for the others.`,
    ),
    ...(limits?.shelfPlaces === 0 && cultures.length > 0
      ? [
          `There is no shelf place: nothing is started of ${cultures.map(({ id, name }) => name ?? id).join(', ')}.`,
        ]
      : []),
    ...(limits?.startsPerWeek === 0 && cultures.length > 0
      ? ['No start a week is allowed: nothing is started.']
      : []),
    ...(late > 0
      ? [
          `${late} ${late === 1 ? 'row' : 'rows'} of demand after the last week of the plan ${late === 1 ? 'is' : 'are'} left out.`,
        ]
      : []),
  ]
}
