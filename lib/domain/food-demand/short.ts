import type { CareProfile } from '../care-profile/profile'
import type { PreyLine } from '../prey/line'
import { appetiteOf } from './appetite'
import { classKeyOf } from './stage-class'

/** Classes of animals that the plan of live food leaves hungry, and the lines that are kept. */
export type ShortFood = { classKeys: ReadonlySet<string>; lines: readonly PreyLine[] }

const SEXES = ['unsexed', 'female', 'male'] as const

/** Whether nymphs of a stage are among those who go short; siblings are of every sex. */
export function isShortOfFood(
  profile: CareProfile,
  moults: number,
  { classKeys, lines }: ShortFood,
): boolean {
  return SEXES.some((sex) =>
    classKeys.has(classKeyOf(appetiteOf(profile, { sex, moults, isAdult: false }, { lines }))),
  )
}
