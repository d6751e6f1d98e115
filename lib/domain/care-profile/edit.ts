import type { CareProfile } from './profile'
import type { ValueSource } from './value'
import { type ProfileValuePath, profileValuePaths } from './value-path'

export type ProfileProblem = { path: string; message: string }

/** Reads the number at a value path; undefined when the profile has nothing there. */
export function getProfileValue(profile: CareProfile, path: string): unknown {
  return path.split('.').reduce(stepInto, profile)
}

/** The source of the value a path lies in. */
export function getValueSource(profile: CareProfile, path: string): ValueSource | undefined {
  const source = getProfileValue(profile, `${sourcedPath(path)}.source`)
  return isValueSource(source) ? source : undefined
}

/**
 * A copy with one number replaced and its source turned to "own" with the given note. Throws RangeError
 * for a path that is not listed by `profileValuePaths`; whether the number makes sense says `checkProfile`.
 */
export function updateProfileValue(
  profile: CareProfile,
  edit: { path: string; value: number | null; note: string },
): CareProfile {
  if (!profileValuePaths().some((listed) => listed.path === edit.path)) {
    throw new RangeError(`no editable value at ${edit.path}`)
  }
  const copy = structuredClone(profile)
  place(copy, edit.path, edit.value)
  place(copy, `${sourcedPath(edit.path)}.source`, { kind: 'own', note: edit.note })
  return copy
}

/** A copy that says by one's own word whether animals may live together where space, food and equal size allow. */
export function updateAllowsColony(
  profile: CareProfile,
  { allows, note }: { allows: boolean; note: string },
): CareProfile {
  const { separation } = profile
  const allowsColony = { value: allows, source: { kind: 'own' as const, note } }
  return { ...profile, separation: { ...separation, allowsColony } }
}

/** What is wrong with a profile, by path; empty when it can be used. Wrong order is reported at the upper end. */
export function checkProfile(profile: CareProfile): ProfileProblem[] {
  const problems = profileValuePaths().flatMap((listed) => checkValue(profile, listed))
  if (problems.length > 0) return problems
  return [...checkRanges(profile), ...checkShares(profile), ...checkTemperatures(profile)]
}

function checkValue(profile: CareProfile, listed: ProfileValuePath): ProfileProblem[] {
  const value = getProfileValue(profile, listed.path)
  const { path, label, minimum, maximum } = listed
  if (value === null && listed.isOptional) return []
  if (typeof value !== 'number' || !Number.isFinite(value))
    return [{ path, message: `${label}: a number is missing.` }]
  if (value < minimum || value > maximum) {
    return [{ path, message: `${label}: ${minimum} to ${maximum} ${listed.unit}`.trimEnd().concat('.') }]
  }
  return listed.isWhole && !Number.isInteger(value) ? [{ path, message: `${label}: a whole number.` }] : []
}

function checkRanges(profile: CareProfile): ProfileProblem[] {
  const pairs: [string, string][] = [
    ['breeding.firstEggCaseDays.value.min', 'breeding.firstEggCaseDays.value.max'],
    ['breeding.eggCases.value.min', 'breeding.eggCases.value.max'],
    ['hatch.nymphs.value.min', 'hatch.nymphs.value.typical'],
    ['hatch.nymphs.value.typical', 'hatch.nymphs.value.max'],
    ['hatch.incubation.value.minDays', 'hatch.incubation.value.maxDays'],
    ['hatch.incubation.value.minC', 'hatch.incubation.value.maxC'],
    ['hatch.coldRest.value.minWeeks', 'hatch.coldRest.value.maxWeeks'],
    ['hatch.coldRest.value.minC', 'hatch.coldRest.value.maxC'],
    ['keeping.bodyLengthMm.value.hatchling', 'keeping.bodyLengthMm.value.adultMale'],
    ['keeping.bodyLengthMm.value.hatchling', 'keeping.bodyLengthMm.value.adultFemale'],
    ['keeping.dayC.value.min', 'keeping.dayC.value.max'],
    ['keeping.lowestNightC.value', 'keeping.dayC.value.max'],
    ['keeping.humidityPct.value.min', 'keeping.humidityPct.value.max'],
    ['keeping.adultLifeWeeks.male.value.min', 'keeping.adultLifeWeeks.male.value.max'],
    ['keeping.adultLifeWeeks.female.value.min', 'keeping.adultLifeWeeks.female.value.max'],
    ['handling.sexing.value.probableFromMoults', 'handling.sexing.value.certainFromMoults'],
    ['dispatch.gate.value.insulatedMinC', 'dispatch.gate.value.heatPackMinC'],
    ['dispatch.gate.value.heatPackMinC', 'dispatch.gate.value.plainMinC'],
    ['dispatch.gate.value.plainMinC', 'dispatch.gate.value.plainMaxC'],
    ['dispatch.gate.value.plainMaxC', 'dispatch.gate.value.coolPackMaxC'],
  ]
  return pairs
    .filter(
      ([lower, upper]) => Number(getProfileValue(profile, lower)) > Number(getProfileValue(profile, upper)),
    )
    .map(([lower, upper]) => ({ path: upper, message: `${labelOf(upper)}: below “${labelOf(lower)}”.` }))
}

function checkShares(profile: CareProfile): ProfileProblem[] {
  return (['male', 'female'] as const)
    .filter((sex) => {
      const count = profile.growth.moultsToAdult[sex].value
      return count.oneFewerShare + count.oneMoreShare > 1
    })
    .map((sex) => ({
      path: `growth.moultsToAdult.${sex}.value.oneMoreShare`,
      message: 'The shares with one moult fewer and one more come to more than all animals.',
    }))
}

function checkTemperatures(profile: CareProfile): ProfileProblem[] {
  const { lowerThresholdC, referenceC, upperThresholdC } = profile.growth
  const problems: ProfileProblem[] = []
  if (referenceC.value <= lowerThresholdC.value) {
    problems.push({
      path: 'growth.referenceC.value',
      message: 'Must lie above the temperature without growth.',
    })
  }
  if (upperThresholdC.value < referenceC.value) {
    problems.push({
      path: 'growth.upperThresholdC.value',
      message: 'Must not lie below the reference temperature.',
    })
  }
  const incubationC = (profile.hatch.incubation.value.minC + profile.hatch.incubation.value.maxC) / 2
  if (incubationC <= lowerThresholdC.value) {
    problems.push({
      path: 'hatch.incubation.value.maxC',
      message: 'No egg case develops below the threshold of growth.',
    })
  }
  return problems
}

function labelOf(path: string): string {
  return profileValuePaths().find((listed) => listed.path === path)?.label ?? path
}

/** `growth.daysToAdult.male` from `growth.daysToAdult.male.value` or `….value.min`. */
function sourcedPath(path: string): string {
  return path.slice(0, path.indexOf('.value'))
}

function stepInto(node: unknown, key: string): unknown {
  if (!isRecord(node)) return undefined
  return node[key]
}

function place(root: unknown, path: string, value: unknown): void {
  const keys = path.split('.')
  const last = keys.pop() ?? ''
  const parent = keys.reduce(stepInto, root)
  if (!isRecord(parent)) throw new RangeError(`nothing at ${path}`)
  parent[last] = value
}

function isRecord(node: unknown): node is Record<string, unknown> {
  return typeof node === 'object' && node !== null
}

function isValueSource(node: unknown): node is ValueSource {
  return isRecord(node) && (node.kind === 'published' || node.kind === 'default' || node.kind === 'own')
}
