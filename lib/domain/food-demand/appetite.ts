import { bodyLengthMm, type Sex } from '../care-profile/body-length'
import type { CareProfile, PreyPortion } from '../care-profile/profile'
import type { PreyLine } from '../prey/line'

/** What one animal of a stage takes a day, by line, first choice first. */
export type Appetite = {
  lengthMm: number
  isAdult: boolean
  accepts: readonly { line: string; itemsPerAnimalDay: number }[]
}

export type AppetiteSettings = {
  /** The room's own factor on what is eaten, learned or set. */
  factor: number
  /** On top of what is eaten, once, for escapes and waste; fruit flies only. */
  fruitFlyAllowance: number
  /** Share of a nymph's days on which it fasts before a moult. */
  fastingShare: number
}

export const APPETITE_DEFAULTS: AppetiteSettings = { factor: 1, fruitFlyAllowance: 0.3, fastingShare: 0.12 }

const FRUIT_FLIES = ['melanogaster', 'hydei']
/** Prey a little longer than the rule still is taken. */
const LENGTH_TOLERANCE = 1.2

/**
 * Items a day by line for an animal of a stage: the portions of its profile, each by every line that stands for
 * the portion's item, fits its body length and is not avoided. An empty list means that no line feeds it.
 */
export function appetiteOf(
  profile: CareProfile,
  animal: { sex: Sex; moults: number; isAdult: boolean },
  room: { lines: readonly PreyLine[]; settings?: Partial<AppetiteSettings> },
): Appetite {
  const settings = { ...APPETITE_DEFAULTS, ...room.settings }
  const lengthMm = bodyLengthMm(profile, animal)
  const accepts = new Map<string, number>()
  const share = settings.factor * stageShare(profile, { ...animal, lengthMm }, settings)
  for (const portion of portionsOf(profile, { ...animal, lengthMm })) {
    for (const line of room.lines) {
      const equivalent = line.standsFor.value.find(({ item }) => item === portion.item)
      if (!equivalent || accepts.has(line.id) || !fits(profile, line, lengthMm)) continue
      const allowance = FRUIT_FLIES.includes(portion.item) ? 1 + settings.fruitFlyAllowance : 1
      const items =
        ((portion.min + portion.max) / 2 / portion.perDays / equivalent.counts) * share * allowance
      if (items > 0) accepts.set(line.id, items)
    }
  }
  return {
    lengthMm,
    isAdult: animal.isAdult,
    accepts: [...accepts].map(([line, itemsPerAnimalDay]) => ({ line, itemsPerAnimalDay })),
  }
}

type Measured = { sex: Sex; moults: number; isAdult: boolean; lengthMm: number }

function portionsOf(profile: CareProfile, { isAdult, lengthMm }: Measured): PreyPortion[] {
  const { adultPortions, nymphRungs, avoids, largeFromMm } = profile.feeding
  const { small, large } = adultPortions.value
  const rungs = [...nymphRungs.value].sort((a, b) => a.fromLengthMm - b.fromLengthMm)
  const rung = rungs.findLast(({ fromLengthMm }) => fromLengthMm <= lengthMm) ?? rungs[0]
  const portions = isAdult ? (lengthMm > largeFromMm.value ? large : small) : (rung?.portions ?? [])
  return portions.filter(({ item }) => !avoids.value.includes(item))
}

function stageShare(profile: CareProfile, animal: Measured, settings: AppetiteSettings): number {
  if (!animal.isAdult) return 1 - settings.fastingShare
  const isLarge = animal.lengthMm > profile.feeding.largeFromMm.value
  return animal.sex === 'male' && isLarge ? profile.feeding.maleShare.value : 1
}

function fits(profile: CareProfile, line: PreyLine, lengthMm: number): boolean {
  const { min, max } = line.takenByLengthMm.value
  const longest = lengthMm * profile.feeding.preyLengthShare.value * LENGTH_TOLERANCE
  return lengthMm >= min && (max === null || lengthMm <= max) && line.lengthMm.value.min <= longest
}
