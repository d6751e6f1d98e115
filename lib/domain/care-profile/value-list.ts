import { getProfileValue, getValueSource } from './edit'
import type { CareProfile, PreyPortion } from './profile'
import type { Sourced, ValueSource } from './value'
import { profileValuePaths } from './value-path'

export type ProfileGroup = keyof CareProfile

/** One value of a profile with its words, its unit and where it comes from. */
export type ListedValue = {
  path: string
  label: string
  unit: string
  group: ProfileGroup
  value: number | string | boolean | null
  source: ValueSource
  note: string | null
  /** Is it a number that `updateProfileValue` takes? */
  isEditable: boolean
}

/** Every value of a profile in the order of the editor, figures first, then what is said in words. */
export function listProfileValues(profile: CareProfile): ListedValue[] {
  return [...listFigures(profile), ...listWords(profile)]
}

function listFigures(profile: CareProfile): ListedValue[] {
  return profileValuePaths().flatMap(({ path, label, unit, group }) => {
    const value = getProfileValue(profile, path)
    const source = getValueSource(profile, path)
    if (!source || (typeof value !== 'number' && value !== null)) return []
    const note = getProfileValue(profile, `${path.slice(0, path.indexOf('.value'))}.note`)
    return [
      {
        path,
        label,
        unit,
        group,
        value,
        source,
        note: typeof note === 'string' ? note : null,
        isEditable: true,
      },
    ]
  })
}

type WordLine<T> = {
  group: ProfileGroup
  name: string
  label: string
  sourced: Sourced<T>
  say: (value: T) => string | boolean | null
}

function listWords(profile: CareProfile): ListedValue[] {
  const { hatch, separation, feeding, dispatch } = profile
  return [
    sayWord({
      group: 'hatch',
      name: 'coldRest',
      label: 'Cold rest',
      sourced: hatch.coldRest,
      say: (rest) => REST[rest.need],
    }),
    sayWord({
      group: 'hatch',
      name: 'coldRest.hasCountingDaysBefore',
      label: 'Days before the rest count towards the hatch',
      sourced: hatch.coldRest,
      say: (rest) => (rest.need === 'none' ? null : rest.hasCountingDaysBefore),
    }),
    sayWord({
      group: 'separation',
      name: 'tolerance',
      label: 'Among siblings',
      sourced: separation.tolerance,
      say: (word) => TOLERANCE[word],
    }),
    sayWord({
      group: 'separation',
      name: 'allowsColony',
      label: 'May live together',
      sourced: separation.allowsColony,
      say: (may) => may,
    }),
    sayWord({
      group: 'feeding',
      name: 'nymphRungs',
      label: 'Nymphs are given',
      sourced: feeding.nymphRungs,
      say: (rungs) =>
        rungs.map((rung) => `from ${rung.fromLengthMm} mm ${sayPortions(rung.portions)}`).join('; '),
    }),
    sayWord({
      group: 'feeding',
      name: 'adultPortions.small',
      label: 'Small adults are given',
      sourced: feeding.adultPortions,
      say: (adults) => sayPortions(adults.small),
    }),
    sayWord({
      group: 'feeding',
      name: 'adultPortions.large',
      label: 'Large adults are given',
      sourced: feeding.adultPortions,
      say: (adults) => sayPortions(adults.large),
    }),
    sayWord({
      group: 'feeding',
      name: 'avoids',
      label: 'Not given',
      sourced: feeding.avoids,
      say: (items) => (items.length === 0 ? null : items.map(sayItem).join(', ')),
    }),
    sayWord({
      group: 'dispatch',
      name: 'origin',
      label: 'Comes from a climate that is',
      sourced: dispatch.origin,
      say: (origin) => origin,
    }),
    sayWord({
      group: 'dispatch',
      name: 'region',
      label: 'Region',
      sourced: dispatch.region,
      say: (region) => region,
    }),
  ].filter((listed) => listed.value !== null)
}

function sayWord<T>({ group, name, label, sourced, say }: WordLine<T>): ListedValue {
  return {
    path: `${group}.${name}`,
    label,
    unit: '',
    group,
    value: say(sourced.value),
    source: sourced.source,
    note: sourced.note ?? null,
    isEditable: false,
  }
}

const REST = {
  none: 'not needed',
  optional: 'optional',
  'cold-strains': 'needed by strains from cold places',
}
const TOLERANCE = { tolerant: 'tolerant', usual: 'as most', fierce: 'fierce' }

function sayPortions(portions: readonly PreyPortion[]): string {
  return portions.map(sayPortion).join(' or ')
}

function sayPortion({ item, min, max, perDays }: PreyPortion): string {
  const count = min === max ? `${min}` : `${min}–${max}`
  return `${count} ${sayItem(item)} ${perDays === 1 ? 'a day' : `in ${perDays} days`}`
}

function sayItem(item: string): string {
  return item.replaceAll('-', ' ')
}

/** A copy whose values all say that they were taken over from another species: nobody's citation travels along. */
export function adoptProfile(profile: CareProfile, note: string): CareProfile {
  const copy = structuredClone(profile)
  turnSources(copy, note)
  return copy
}

function turnSources(node: unknown, note: string): void {
  if (typeof node !== 'object' || node === null) return
  if ('value' in node && 'source' in node) {
    node.source = { kind: 'own', note } satisfies ValueSource
    if ('note' in node) delete node.note
    return
  }
  for (const child of Object.values(node)) turnSources(child, note)
}
